import type { LimitName } from "../core/analysis.ts";
import { G, mpsToKmh } from "../core/units.ts";
import type { SweepAnswer } from "./curves.ts";
import { LIMIT_WORDS } from "./words.ts";

/** A load at which something gives, standing on the ruler before anyone gets there. */
export interface Post {
  at: number;
  words: string;
}

/** kinds whose passing is shown on the load rulers; what needs heat or time is told elsewhere */
const ON_RULER: readonly LimitName[] = [
  "hubRetention",
  "armYield",
  "armBuckling",
  "tyreOffRim",
  "jointPullOut",
  "camber",
  "wheelLift",
  "sliding",
  "fit",
  "springOnStop",
];

/** Loads (g) at which each limit reaches 1, from the first; the end of a sweep without an answer is a post too. */
export function postsOf(sweep: SweepAnswer | null): Post[] {
  if (!sweep) return [];
  const out: Post[] = [];
  for (const name of ON_RULER) {
    let last: { g: number; u: number } | null = null;
    for (const p of sweep.points) {
      const u = p.worst[name];
      if (u === undefined) continue;
      if (u >= 1) {
        const at = last && last.u < 1 ? last.g + ((1 - last.u) / (u - last.u)) * (p.g - last.g) : p.g;
        out.push({ at, words: name === "hubRetention" ? `${sweep.hubPart.replace(/^hub /, "")} gives` : LIMIT_WORDS[name].post });
        break;
      }
      last = { g: p.g, u };
    }
  }
  if (sweep.endsAtG !== null) out.push({ at: sweep.endsAtG, words: sweep.endsBy });
  return out.sort((x, y) => x.at - y.at);
}

/** First load at which something gives, g; null: nothing within the sweep. */
export const firstPost = (posts: readonly Post[]): Post | null => posts[0] ?? null;

export const speedKmh = (g: number, radiusM: number): number => mpsToKmh(Math.sqrt(Math.abs(g) * G * radiusM));
export const gOfSpeed = (kmh: number, radiusM: number): number => (kmh / 3.6) ** 2 / (G * radiusM);

/** Even marks along a ruler: long ones with a number, short ones between. */
export function marksOf(min: number, max: number, every: number, between: number): { at: number; long: boolean }[] {
  const out: { at: number; long: boolean }[] = [];
  const step = every / between;
  const from = Math.ceil(min / step - 1e-9);
  for (let i = from; i * step <= max + 1e-9; i++) out.push({ at: i * step, long: ((i % between) + between) % between === 0 });
  return out;
}

/** Labels that would collide are dropped, the first ones stay. `px`: place on screen; widths in px. */
export function spacedPosts(
  posts: readonly Post[],
  px: (at: number) => number,
  width: (words: string) => number,
): { post: Post; x: number; align: "start" | "end" }[] {
  const taken: [number, number][] = [];
  const out: { post: Post; x: number; align: "start" | "end" }[] = [];
  for (const post of posts) {
    const x = px(post.at);
    const w = width(post.words) + 8;
    const options: ["end" | "start", [number, number]][] =
      out.length === 0
        ? [
            ["end", [x - w, x]],
            ["start", [x, x + w]],
          ]
        : [
            ["start", [x, x + w]],
            ["end", [x - w, x]],
          ];
    const free = options.find(([, [a, b]]) => a >= 0 && !taken.some(([c, d]) => a < d && c < b));
    if (!free) continue;
    taken.push(free[1]);
    out.push({ post, x, align: free[0] });
  }
  return out;
}
