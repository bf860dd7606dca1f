import { isBelowWide, isNarrow } from "../ui/widths.ts";
import "../ui/css/fonts.css";
import "../ui/css/tokens.css";
import "../ui/css/base.css";
import "../ui/css/notice.css";
import "./styles/bar.css";
import "./styles/regions.css";
import "../pages/axle/styles/drawing.css";
import "../pages/axle/styles/sure.css";
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
import "../ui/css/forced.css";
import { createDrawing } from "../draw/stage.ts";
import { type Doc, INITIAL_VIEW } from "../state/document.ts";
import { gate } from "../state/gate.ts";
import { emptyHistory } from "../state/history.ts";
import { isLink, openLink } from "../state/link.ts";
import type { Stored, Work } from "../state/persist.ts";
import { createStore } from "../state/store.ts";
import { buildLayout } from "./layout.ts";
import { prepareOffline } from "./offline.ts";
import { tellFaults } from "./page-notices.ts";
import { createKeeper } from "./sessions.ts";
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

/** A link that was read goes from the address: what is done after it must not vanish with a reload. */
const clearAddress = (): void => history.replaceState(null, "", location.pathname + location.search);

const asReceived = (doc: Doc): Work => ({ doc, view: INITIAL_VIEW, history: emptyHistory() });

async function main(): Promise<void> {
  const faces = facesReady();
  const root = document.getElementById("app") as HTMLElement;
  const layout = buildLayout(root);
  const link = isLink(location.hash) ? await openLink(location.hash) : null;
  if (link) clearAddress();
  // a received design is work of its own: it never takes the place of what lies here
  const keeper = await createKeeper(firstDoc(), link?.ok ?? false);
  const first: Work = link?.ok ? asReceived(link.doc) : (keeper.restored ?? asReceived(firstDoc()));
  const view = {
    ...first.view,
    ...(keeper.restored ? {} : { ...(isNarrow() ? { selection: null } : {}), ...(isBelowWide() ? { drawerOpen: false } : {}) }),
  };
  const store = createStore(first.doc, view, () => performance.now(), gate, first.history);
  const [drawing] = await Promise.all([createDrawing(document.documentElement), faces]);
  const news = startApp(layout, store, drawing, keeper);
  const received = (earlier: Stored | undefined): void =>
    news.news(
      ["A shared design is opened, as work of its own."],
      earlier && { words: `go back to ${earlier.name ?? "your own work"}`, run: () => void goBack(earlier.id) },
    );
  const goBack = async (id: string): Promise<void> => {
    const fault = await keeper.takeUp(id);
    if (fault) news.error([fault]);
  };
  if (link && !link.ok) news.error(link.lines);
  if (link?.ok) received(keeper.others()[0]);
  window.addEventListener("hashchange", async () => {
    if (!isLink(location.hash)) return;
    const read = await openLink(location.hash);
    clearAddress();
    if (!read.ok) {
      news.error(read.lines);
      return;
    }
    const before = keeper.id();
    await keeper.begin({ ...asReceived(read.doc), view: { ...store.get().view, page: INITIAL_VIEW.page } });
    received(keeper.others().find((s) => s.id === before));
  });
  document.documentElement.dataset.ready = "yes";
}

tellFaults();
void main().then(prepareOffline);
