export { default } from '../SitePage';
