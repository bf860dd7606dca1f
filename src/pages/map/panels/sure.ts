import "../../../ui/css/sure.css";
import "../styles/map-sure.css";
import { h, keyed, setText } from "../../../ui/dom.ts";
import { createDriveAtMost } from "../../../ui/drive-at-most.ts";
import { term } from "../../../ui/help.ts";
import { createSamplingProgress } from "../../../ui/sampling-progress.ts";
import type { SamplingProgress } from "../../../view/sampling-words.ts";
import type { MapSureWords } from "../picture/sure-words.ts";

export interface MapSureModel extends MapSureWords {
  chancePercent: number;
  /** null: no sample goes on or was stopped */
  progress: SamplingProgress | null;
}

export interface MapSurePanelHooks {
  chance(percent: number): void;
  stop(): void;
  again(): void;
}

export interface MapSurePanel {
  /** under the big number: the safe speed's ± and the speed to drive at most */
  hero: HTMLElement;
  /** the chances at the place where the car stands */
  section: HTMLElement;
  update(model: MapSureModel): void;
}

/** How sure the safe speed is, and how likely something gives at the place; `stopped` says why the chances stay away. */
export function createMapSurePanel(stopped: HTMLElement, hooks: MapSurePanelHooks): MapSurePanel {
  const sure = h("b");
  const range = h("span");
  const sureLine = h("p", { class: "hero-sure" }, sure, " ", h("span", { class: "hero-range" }, term("band", "90 % range"), " ", range));
  const most = createDriveAtMost((percent) => hooks.chance(percent));
  const hero = h("div", { class: "map-hero-sure" }, sureLine, most.el);

  const place = h("span", { class: "aside-term" });
  const rows = h("tbody");
  const note = h("p", { class: "map-note" });
  const progress = createSamplingProgress("sampling", hooks);
  const section = h(
    "section",
    { class: "map-chances", "aria-label": "chances at this place" },
    h("div", { class: "head-row" }, h("h2", {}, term("chance", "Chance that it gives")), place),
    h("table", {}, h("caption", { class: "sr" }, "chance of each limit at the place where the car stands"), rows),
    note,
    progress.el,
    stopped,
  );
  return {
    hero,
    section,
    update(m) {
      sureLine.classList.toggle("off", m.sure === "");
      setText(sure, m.sure);
      setText(range, m.range);
      most.update(m);
      setText(place, m.place);
      keyed(
        rows,
        m.chances,
        (c) => c.key,
        (c) => h("tr", { "data-chance": c.key }, h("th", { scope: "row" }), h("td")),
        (tr, c) => {
          const [name, value] = tr.children as unknown as [Element, Element];
          tr.classList.toggle("any", c.any);
          setText(name, c.words);
          setText(value, c.chance);
        },
      );
      setText(note, m.note || "Once the map and the changes are worked out, cars are tried whose values are drawn within what is known of this one.");
      progress.update(m.progress);
    },
  };
}
