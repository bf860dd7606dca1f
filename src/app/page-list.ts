import type { MountPage, PageEntry } from "../ui/page.ts";

/** A page whose code is fetched when it is first chosen. */
function lazily(page: Omit<PageEntry, "mount">, load: () => Promise<MountPage>): PageEntry {
  return {
    ...page,
    mount(region, store, help) {
      let ready: { update(): void } | null = null;
      // the region belongs to whoever is shown when the page has come
      let mine = true;
      const left = store.subscribe(() => {
        if (store.get().view.page === page.key) return;
        mine = false;
        left();
      });
      void load().then((mount) => {
        if (!mine) return;
        ready = mount(region, store, help);
        ready.update();
      });
      return { update: () => ready?.update() };
    },
  };
}

export const AXLE = { key: "axle", words: "Axle" };

/** The pages beside the axle, in the order of the bar. */
export const PAGES: readonly PageEntry[] = [
  lazily({ key: "arm", words: "Arm sheet", short: "Arm" }, () => import("../pages/arm/mount.ts").then((m) => m.mountArmSheet)),
  lazily({ key: "speedMap", words: "Speed map", short: "Speed" }, () => import("../pages/map/mount.ts").then((m) => m.mountSpeedMap)),
  lazily({ key: "motion", words: "Motion" }, () => import("../pages/motion/mount.ts").then((m) => m.mountMotion)),
  lazily({ key: "report", words: "Report" }, () => import("../pages/report/mount.ts").then((m) => m.mountReport)),
];
