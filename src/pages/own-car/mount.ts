import type { MountPage } from "../../ui/page.ts";
import { createOwnCarPage, type OwnCarPage } from "./own-car-page.ts";

let page: OwnCarPage | null = null;

/** Start your own car: from the car on the table to a first answer, with every guess visible. Made once, shown as often as wanted. */
export const mountOwnCar: MountPage = (region, store, help) => {
  page ??= createOwnCarPage(store, help);
  page.show(region);
  return page;
};
