import {policyHash} from "../io/policyHash.ts";

/**
 * Reloads an open page when the server says that it was made anew, and keeps its place: how far it was scrolled, and what was open. Told
 * apart from the pages' own script, as it is never in a file.
 */
const reload = `(() => {
const key = "place " + location.pathname;
const folds = () => [...document.querySelectorAll("details")].map((fold) => [fold, (fold.closest("[id]") || fold).id + fold.firstElementChild.textContent]);
const kept = JSON.parse(sessionStorage.getItem(key) || "null");
sessionStorage.removeItem(key);
if (kept) {
  history.scrollRestoration = "manual";
  for (const [fold, name] of folds()) fold.open = kept.open.includes(name);
  scrollTo(0, kept.y);
}
new EventSource("/made").onmessage = ({data}) => {
  if (location.pathname !== "/" + data) return;
  const open = folds().filter(([fold]) => fold.open).map(([, name]) => name);
  sessionStorage.setItem(key, JSON.stringify({y: scrollY, open}));
  location.reload();
};
})();`;

const reloadHash = policyHash(reload);

/**
 * A page with the script that reloads it, and leave for that script in its policy: for a server on this machine only, never for a file.
 * A page without a policy gets the script alone. Returns the page's text.
 */
export function livePage(page: string): string {
  return page
    .replace(/(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(">)/, (_, before, policy, after) => {
      const quoted = `&#39;${reloadHash}&#39;`;
      const scripts = policy.includes("script-src ")
        ? policy.replace("script-src ", `script-src ${quoted} `)
        : `${policy}; script-src ${quoted}`;
      return `${before}${scripts}; connect-src &#39;self&#39;${after}`;
    })
    .replace(/<\/body>(?![\s\S]*<\/body>)/, () => `<script>${reload}</script>\n</body>`);
}
