import { type PageView, registerView } from "./views.ts";

/** The pages beside the axle, in the order of the bar. What only one of them needs is fetched when it is first chosen. */
function lazily(page: Omit<PageView, "mount">, load: () => Promise<PageView["mount"]>): void {
  registerView({
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
  });
}

lazily({ key: "arm", words: "Arm sheet", short: "Arm" }, () => import("./armSheet.ts").then((m) => m.mountArmSheet));
lazily({ key: "speedMap", words: "Speed map", short: "Speed" }, () => import("./speedMap.ts").then((m) => m.mountSpeedMap));
lazily({ key: "motion", words: "Motion" }, () => import("./motionPage.ts").then((m) => m.mountMotion));
lazily({ key: "report", words: "Report" }, () => import("./reportPage.ts").then((m) => m.mountReport));
