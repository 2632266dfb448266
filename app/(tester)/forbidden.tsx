export { default } from '../ui/Forbidden';
