/** The way to the files of a doorway takes along which finding is being looked at. */
export function wireOut(root: Document): void {
  root.addEventListener("click", (event) => {
    const link = event.target instanceof Element && event.target.closest<HTMLAnchorElement>("a[data-out]");
    const finding = new URLSearchParams(location.search).get("finding");
    if (!link || !finding) return;
    const to = new URL(link.href);
    to.searchParams.set("finding", finding);
    link.href = to.href;
  });
}
