import type { MotionPage } from "./motion/page.ts";
import { registerView } from "./views.ts";

let page: Promise<MotionPage> | null = null;

// what only this page needs is fetched when it is first chosen
registerView({
  key: "motion",
  words: "Motion",
  mount(region, store, help) {
    let ready: MotionPage | null = null;
    page ??= import("./motion/page.ts").then((m) => m.createMotionPage(store, help));
    void page.then((p) => {
      if (store.get().view.page !== "motion") return;
      p.show(region);
      ready = p;
      p.update();
    });
    return { update: () => ready?.update() };
  },
});
