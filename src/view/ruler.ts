import { LIMIT_NAMES } from "../core/analysis.ts";
import { lateralGAt, speedInCurve } from "../core/cornering.ts";
import { LIMITS } from "../core/limits/records.ts";
import type { CurvesAnswer } from "../core/studies/axle-curves.ts";
import { kmhToMps, mpsToKmh } from "../core/units.ts";

/** A load at which something gives, standing on the ruler before anyone gets there. */
export interface Post {
  at: number;
  words: string;
}

const ON_RULER = LIMIT_NAMES.filter((n) => LIMITS[n].onRuler);

/** Loads (g) at which each limit reaches 1, from the first; the end of a sweep without an answer is a post too. */
export function postsOf(sweep: CurvesAnswer["sweep"] | null): Post[] {
  if (!sweep) return [];
  const out: Post[] = [];
  for (const name of ON_RULER) {
    let last: { g: number; u: number } | null = null;
    for (const p of sweep.points) {
      const u = p.worst[name];
      if (u === undefined) continue;
      if (u >= 1) {
        const between = last && last.u < 1 ? last.g + ((1 - last.u) / (u - last.u)) * (p.g - last.g) : p.g;
        // between its points the sweep tells only the first to give for sure
        const at = sweep.gives?.name === name ? sweep.gives.g : Math.max(between, sweep.gives?.g ?? 0);
        out.push({ at, words: name === "hubRetention" ? `${sweep.hubPart.replace(/^hub /, "")} gives` : LIMITS[name].words.post });
        break;
      }
      last = { g: p.g, u };
    }
  }
  // what the tyres' grip ends is told as their sliding already
  if (sweep.endsAtG !== null && !out.some((p) => p.words === sweep.endsBy)) out.push({ at: sweep.endsAtG, words: sweep.endsBy });
  return out.sort((x, y) => x.at - y.at);
}

export const speedKmh = (g: number, radiusM: number): number => mpsToKmh(speedInCurve(g, radiusM));
/** Speed of the first load at which something gives, km/h; null: nothing within the sweep. */
export const safeKmh = (posts: readonly Post[], radiusM: number): number | null => (posts[0] ? speedKmh(posts[0].at, radiusM) : null);
export const gOfSpeed = (kmh: number, radiusM: number): number => lateralGAt(kmhToMps(kmh), radiusM);

/** Even marks along a ruler: long ones with a number, short ones between. */
export function marksOf(min: number, max: number, every: number, between: number): { at: number; long: boolean }[] {
  const out: { at: number; long: boolean }[] = [];
  const step = every / between;
  const from = Math.ceil(min / step - 1e-9);
  for (let i = from; i * step <= max + 1e-9; i++) out.push({ at: i * step, long: ((i % between) + between) % between === 0 });
  return out;
}

/** A post with the side on which its words stand; null: no room for words, the post stands without. */
export interface PlacedPost {
  post: Post;
  x: number;
  align: "start" | "end" | null;
}

/**
 * Words beside their posts where there is room: inside the ruler (0 to `end` px), off the bob (`avoid`) and off the
 * words before them. `px`: place on screen; `width`: of words, px.
 */
export function spacedPosts(
  posts: readonly Post[],
  px: (at: number) => number,
  width: (words: string) => number,
  end: number,
  avoid: readonly [number, number][],
): PlacedPost[] {
  const taken: [number, number][] = [...avoid];
  return posts.map((post, i): PlacedPost => {
    const x = px(post.at);
    const w = width(post.words) + 8;
    const before: ["end", [number, number]] = ["end", [x - w, x - 1]];
    const after: ["start", [number, number]] = ["start", [x + 1, x + w]];
    const free = (i === 0 ? [before, after] : [after, before]).find(([, [a, b]]) => a >= 0 && b <= end && !taken.some(([c, d]) => a < d && c < b));
    if (free) taken.push(free[1]);
    return { post, x, align: free?.[0] ?? null };
  });
}
