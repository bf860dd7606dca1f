import { h } from "./dom.ts";

export interface NoticeModel {
  kind: "refused" | "noAnswer" | "error" | "offer";
  lines: readonly string[];
  action?: { words: string; run(): void };
}

/** One tag over the drawing that says why something did not go; closes itself when the cause is gone. */
export function createNotice(root: HTMLElement): (model: NoticeModel | null) => void {
  let shown = "";
  return (model) => {
    const key = model ? `${model.kind}|${model.lines.join("|")}|${model.action?.words ?? ""}` : "";
    if (key === shown) return;
    shown = key;
    root.hidden = !model;
    if (!model) {
      root.replaceChildren();
      return;
    }
    root.className = `notice ${model.kind}`;
    root.setAttribute("role", model.kind === "error" ? "alert" : "status");
    const close =
      model.kind === "error" || model.kind === "offer"
        ? h(
            "button",
            {
              type: "button",
              class: "link small",
              onclick: () => {
                root.hidden = true;
              },
            },
            "close",
          )
        : null;
    root.replaceChildren(
      ...model.lines.map((l) => h("p", {}, l)),
      ...(model.action ? [h("button", { type: "button", class: "link", onclick: () => model.action?.run() }, model.action.words)] : []),
      ...(close ? [close] : []),
    );
  };
}
