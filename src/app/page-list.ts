import { h } from "../ui/dom.ts";
import type { MountPage, PageEntry } from "../ui/page.ts";
import { createStopped } from "../ui/stopped.ts";

interface LazyPage extends PageEntry {
  /** brings the page's code, once; fails without a network */
  load(): Promise<MountPage>;
}

/** Styles whose fetch failed: nobody else asks for them again. */
const lost = new Set<string>();
window.addEventListener(
  "error",
  (e) => {
    if (e.target instanceof HTMLLinkElement && e.target.rel === "stylesheet") lost.add(e.target.href);
  },
  true,
);

async function fetchLostStyles(): Promise<void> {
  for (const href of lost) {
    const link = h("link", { rel: "stylesheet", href });
    await new Promise<void>((done, failed) => {
      link.addEventListener("load", () => done());
      link.addEventListener("error", () => failed(new Error("its looks did not come")));
      document.head.append(link);
    });
    lost.delete(href);
  }
}

const networkIsBack = (): Promise<boolean> =>
  fetch(location.pathname, { cache: "no-store" }).then(
    (r) => r.ok,
    () => false,
  );

/** A page whose code is fetched when it is first chosen. */
function lazily(page: Omit<PageEntry, "mount">, load: () => Promise<MountPage>): LazyPage {
  return {
    ...page,
    load,
    mount(region, store, help) {
      let ready: { update(): void } | null = null;
      // the region belongs to whoever is shown when the page has come
      let mine = true;
      const left = store.subscribe(() => {
        if (store.get().view.page === page.key) return;
        mine = false;
        left();
      });
      const waits = h("p", { class: "fetching", role: "status" }, "fetching this page …");
      const stopped = createStopped();
      stopped.el.classList.add("fetching");
      region.append(waits, stopped.el);
      const fetchPage = async (again: boolean): Promise<void> => {
        waits.hidden = false;
        stopped.update(null);
        let mount: MountPage;
        try {
          if (again) await fetchLostStyles();
          mount = await load();
        } catch (e) {
          // some browsers remember a script that did not come for as long as the page stands: begun anew, it asks again, and the work comes along
          if (again && (await networkIsBack())) {
            location.reload();
            return;
          }
          waits.hidden = true;
          stopped.update({
            words: `This page could not be fetched; is the network gone? Your work is as it was. (${e instanceof Error ? e.message : String(e)})`,
            again: () => void fetchPage(true),
          });
          return;
        }
        if (!mine) return;
        region.replaceChildren();
        ready = mount(region, store, help);
        ready.update();
      };
      void fetchPage(false);
      return { update: () => ready?.update() };
    },
  };
}

export const AXLE = { key: "axle", words: "Axle" };

/** The pages beside the axle, in the order of the bar. */
export const PAGES: readonly LazyPage[] = [
  lazily({ key: "arm", words: "Arm sheet", short: "Arm" }, () => import("../pages/arm/mount.ts").then((m) => m.mountArmSheet)),
  lazily({ key: "speedMap", words: "Speed map", short: "Speed" }, () => import("../pages/map/mount.ts").then((m) => m.mountSpeedMap)),
  lazily({ key: "motion", words: "Motion" }, () => import("../pages/motion/mount.ts").then((m) => m.mountMotion)),
  lazily({ key: "bench", words: "Bench" }, () => import("../pages/bench/mount.ts").then((m) => m.mountBench)),
  lazily({ key: "report", words: "Report" }, () => import("../pages/report/mount.ts").then((m) => m.mountReport)),
  lazily({ key: "ownCar", words: "Your own car", aside: true }, () => import("../pages/own-car/mount.ts").then((m) => m.mountOwnCar)),
];
