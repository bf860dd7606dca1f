import { h } from "./dom.ts";

export interface NoticeAction {
  words: string;
  run(): void;
}

export interface NoticeModel {
  kind: "refused" | "noAnswer" | "error" | "news" | "offer";
  lines: readonly string[];
  action?: NoticeAction;
  more?: readonly NoticeAction[];
  /** it stays until it is closed; without it, it goes with its cause */
  close?(): void;
}

/** One tag that says why something did not go, or what happened; it never stands in the way of work. */
export function createNotice(root: HTMLElement): (model: NoticeModel | null) => void {
  let shown = "";
  return (model) => {
    const actions = model ? [...(model.action ? [model.action] : []), ...(model.more ?? [])] : [];
    const key = model ? [model.kind, ...model.lines, ...actions.map((a) => a.words)].join("|") : "";
    if (key === shown) return;
    shown = key;
    root.hidden = !model;
    if (!model) {
      root.replaceChildren();
      return;
    }
    root.className = `notice ${model.kind}`;
    root.setAttribute("role", model.kind === "error" ? "alert" : "status");
    const acts = actions.map((a) => h("button", { type: "button", class: "link", onclick: () => a.run() }, a.words));
    const close = model.close ?? (model.kind === "error" || model.kind === "offer" ? () => void (root.hidden = true) : null);
    if (close) acts.push(h("button", { type: "button", class: "link small", onclick: close }, "close"));
    root.replaceChildren(...model.lines.map((l) => h("p", {}, l)), ...acts);
  };
}
