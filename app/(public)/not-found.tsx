export { default } from '../ui/NotFound';
