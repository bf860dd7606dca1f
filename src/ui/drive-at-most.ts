import "./css/sure.css";
import { CHANCES } from "../state/sure.ts";
import { h, setText } from "./dom.ts";
import { term } from "./help.ts";

export interface DriveAtMostModel {
  /** the speed with its unit; empty: not known yet */
  atMost: string;
  /** how sure that is itself */
  atMostOff: string;
  chancePercent: number;
}

/** The speed to drive at most, for a chance that the builder picks. */
export function createDriveAtMost(pick: (percent: number) => void): { el: HTMLElement; update(m: DriveAtMostModel): void } {
  const chance = h(
    "select",
    { class: "sure-chance", "aria-label": "chance that something gives", onchange: () => pick(Number(chance.value)) },
    ...CHANCES.map((c) => h("option", { value: c }, `${c} %`)),
  );
  const atMost = h("b");
  const off = h("span", { class: "sure-off" });
  return {
    el: h("p", { class: "sure-most" }, term("driveAtMost", "drive at most"), " ", atMost, " for a ", term("chance", "chance"), " of ", chance, off),
    update(m) {
      setText(atMost, m.atMost || "–");
      setText(off, m.atMostOff);
      if (document.activeElement !== chance) chance.value = String(m.chancePercent);
    },
  };
}
