/** The framework's navigation where a page is rendered without a browser: nothing moves. */
export function stillNavigation<Navigation extends object>(original: Navigation) {
  return {
    ...original,
    useRouter: () => ({ refresh() {}, push() {} }),
    usePathname: () => '/',
    useSearchParams: () => new URLSearchParams(),
  };
}
