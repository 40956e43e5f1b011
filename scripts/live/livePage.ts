import {policyHash} from "../io/policyHash.ts";

/**
 * Reloads an open page when the server says that it was made anew, and keeps its place: how far it was scrolled, and what was open. It
 * listens while it is seen only, as a browser keeps few connections to one server, and is then told what it missed. Told apart from the
 * pages' own script, as it is never in a file.
 */
const reload = `(() => {
const {told} = document.currentScript.dataset;
const key = "place " + location.pathname;
const folds = () => [...document.querySelectorAll("details")].map((fold) => [fold, (fold.closest("[id]") || fold).id + fold.firstElementChild.textContent]);
const kept = JSON.parse(sessionStorage.getItem(key) || "null");
sessionStorage.removeItem(key);
if (kept) {
  history.scrollRestoration = "manual";
  for (const [fold, name] of folds()) fold.open = kept.open.includes(name);
  scrollTo(0, kept.y);
}
let events;
const listen = () => {
  events?.close();
  if (document.hidden) return;
  events = new EventSource("/made?" + told);
  events.onmessage = ({data}) => {
    if (location.pathname !== "/" + data) return;
    const open = folds().filter(([fold]) => fold.open).map(([, name]) => name);
    sessionStorage.setItem(key, JSON.stringify({y: scrollY, open}));
    location.reload();
  };
};
document.addEventListener("visibilitychange", listen);
listen();
})();`;

const reloadHash = policyHash(reload);

/**
 * A page with the script that reloads it, and leave for that script in its policy: for a server on this machine only, never for a file.
 * A page without a policy gets the script alone.
 *
 * @param told how often the server had told of pages when it read this one
 * @returns the page's text
 */
export function livePage(page: string, told = 0): string {
  return page
    .replace(/(<meta http-equiv="Content-Security-Policy" content=")([^"]*)(">)/, (_, before, policy, after) => {
      const quoted = `&#39;${reloadHash}&#39;`;
      const scripts = policy.includes("script-src ")
        ? policy.replace("script-src ", `script-src ${quoted} `)
        : `${policy}; script-src ${quoted}`;
      return `${before}${scripts}; connect-src &#39;self&#39;${after}`;
    })
    .replace(/<\/body>(?![\s\S]*<\/body>)/, () => `<script data-told="${told}">${reload}</script>\n</body>`);
}
