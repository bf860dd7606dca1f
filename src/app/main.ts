import { isBelowWide, isNarrow } from "../ui/widths.ts";
import "../ui/css/fonts.css";
import "../ui/css/tokens.css";
import "../ui/css/base.css";
import "./styles/bar.css";
import "./styles/regions.css";
import "../pages/axle/styles/drawing.css";
import "../pages/axle/styles/params.css";
import "../pages/axle/styles/rulers.css";
import "../pages/axle/styles/curves.css";
import "../pages/axle/styles/reading.css";
import "./styles/menu.css";
import "./styles/middle.css";
import "./styles/narrow.css";
import "../ui/css/number-field.css";
import "../pages/axle/styles/fit.css";
import "../pages/axle/styles/limit-why.css";
import { createDrawing } from "../draw/stage.ts";
import { type Doc, INITIAL_VIEW } from "../state/document.ts";
import { fromHash, isLink } from "../state/link.ts";
import { createStore } from "../state/store.ts";
import { buildLayout } from "./layout.ts";
import { prepareOffline } from "./offline.ts";
import { tellFaults } from "./page-notices.ts";
import { checkedDoc, createKeeper } from "./sessions.ts";
import { FIRST_A, FIRST_B, FIRST_G, shipped } from "./shipped.ts";
import { startApp } from "./start.ts";

function firstDoc(): Doc {
  return { a: shipped(FIRST_A), b: shipped(FIRST_B), load: { lateralG: FIRST_G, bumpLeftMm: 0, bumpRightMm: 0 } };
}

/** longest wait for the page's own faces, ms; without them the system's take over */
const FACES_MS = 1500;

/** The faces that texts are measured in, before anything is measured. */
async function facesReady(): Promise<void> {
  const wanted = ["Arimo", "Roboto Condensed"].flatMap((face) => [`16px "${face}"`, `700 16px "${face}"`]);
  const loaded = Promise.all(wanted.map((font) => document.fonts.load(font)));
  await Promise.race([loaded.catch(() => {}), new Promise((late) => setTimeout(late, FACES_MS))]);
}

async function main(): Promise<void> {
  const faces = facesReady();
  const root = document.getElementById("app") as HTMLElement;
  const layout = buildLayout(root);
  const keeper = createKeeper();
  const view = keeper.restored?.view ?? {
    ...INITIAL_VIEW,
    ...(isNarrow() ? { selection: null } : {}),
    ...(isBelowWide() ? { drawerOpen: false } : {}),
  };
  const store = createStore(keeper.restored?.doc ?? firstDoc(), view, () => performance.now());
  let linkFault: string | null = null;
  if (isLink(location.hash)) {
    try {
      const doc = checkedDoc(await fromHash(location.hash));
      if (doc) store.act("open a shared link", () => doc);
      else linkFault = "The link holds no design that can be read; nothing was opened.";
    } catch (e) {
      linkFault = (e as Error).message;
    }
  }
  const [drawing] = await Promise.all([createDrawing(document.documentElement), faces]);
  const page = startApp(layout, store, drawing, keeper);
  if (linkFault) page.error([linkFault]);
  document.documentElement.dataset.ready = "yes";
}

tellFaults();
void main().then(prepareOffline);
