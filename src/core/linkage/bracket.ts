/**
 * A root of `f` between `a` and `b` to the last digit: secant steps kept inside the bracket (Illinois rule, so that
 * both ends move), bisection every fourth step. M. Dowell and P. Jarratt, BIT 11 (1971) 168-174 (from memory).
 * Where f has no change of sign (an end that is a root but for rounding), the end with the smaller value.
 */
export function bracketedRoot(f: (x: number) => number, a: number, b: number): number {
  let fa = f(a);
  let fb = f(b);
  let best = Math.abs(fa) <= Math.abs(fb) ? a : b;
  let least = Math.min(Math.abs(fa), Math.abs(fb));
  if (least === 0 || fa > 0 === fb > 0) return best;
  let moved: "a" | "b" | null = null;
  for (let i = 0; i < 200; i++) {
    const width = b - a;
    let x = i % 4 === 3 ? a + width / 2 : b - (fb * width) / (fb - fa);
    if (!((x - a) * (x - b) < 0)) x = a + width / 2;
    if (x === a || x === b) break;
    const fx = f(x);
    if (Math.abs(fx) < least) {
      best = x;
      least = Math.abs(fx);
    }
    if (fx === 0) break;
    if (fx > 0 === fa > 0) {
      a = x;
      fa = fx;
      if (moved === "a") fb /= 2;
      moved = "a";
    } else {
      b = x;
      fb = fx;
      if (moved === "b") fa /= 2;
      moved = "b";
    }
  }
  return best;
}
