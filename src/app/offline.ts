import { PAGES } from "./page-list.ts";
import { createPageNotice } from "./page-notices.ts";

/** Waits until the page has nothing better to do. */
const idle = (): Promise<void> =>
  new Promise((done) => {
    if ("requestIdleCallback" in window) window.requestIdleCallback(() => done(), { timeout: 4000 });
    else setTimeout(done, 1000);
  });

/** The code of every page, one after the other, so that each opens without a network. */
async function fetchPages(): Promise<void> {
  const rest = [...PAGES.map((p) => p.load), () => import("../view/faces.ts")];
  for (const load of rest) {
    await idle();
    // whoever opens the page is told
    await load().catch(() => undefined);
  }
}

/**
 * Keeps the whole page in this browser, so that it starts without a network, and offers a newer version where one has come. The version at work stays
 * until it is loaded by hand: other tabs only hear that there is one.
 */
async function keepForOffline(): Promise<void> {
  const home = navigator.serviceWorker;
  const offer = createPageNotice("update");
  const registration = await home.register("./sw.js");
  let chosen = false;
  const offerNew = (load: () => void): void =>
    offer({ kind: "offer", lines: ["A new version of this page is ready. Your work goes along."], action: { words: "load it", run: load } });
  const offerIfWaiting = (): void => {
    // without one at work this is the first
    if (!registration.waiting || !home.controller) return;
    offerNew(() => {
      chosen = true;
      registration.waiting?.postMessage({ type: "SKIP_WAITING" });
    });
  };
  let first = home.controller === null;
  home.addEventListener("controllerchange", () => {
    if (chosen) location.reload();
    else if (!first) offerNew(() => location.reload());
    first = false;
  });
  registration.addEventListener("updatefound", () => registration.installing?.addEventListener("statechange", offerIfWaiting));
  offerIfWaiting();
}

/** After the first picture: everything else that the page may need once the network is gone. */
export async function prepareOffline(): Promise<void> {
  await idle();
  // the development server has its own way with changes
  if (!import.meta.hot && "serviceWorker" in navigator)
    // a browser may forbid it, as in a private window: the page works all the same
    await keepForOffline().catch(() => undefined);
  await fetchPages();
}
