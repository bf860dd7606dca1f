/**
 * A root of `f` between `a` and `b`, where f has opposite signs (or is 0), to the last digit: secant steps kept
 * inside the bracket (Illinois rule, so that both ends move), bisection when they stall. M. Dowell and
 * P. Jarratt, BIT 11 (1971) 168-174 (from memory).
 */
export function bracketedRoot(f: (x: number) => number, a: number, b: number): number {
  let fa = f(a);
  let fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  let kept = 0;
  for (let i = 0; i < 200; i++) {
    const width = b - a;
    let x = i % 4 === 3 ? a + width / 2 : b - (fb * width) / (fb - fa);
    if (!((x - a) * (x - b) < 0)) x = a + width / 2;
    if (x === a || x === b) break;
    const fx = f(x);
    if (fx === 0) return x;
    if (fx > 0 === fa > 0) {
      a = x;
      fa = fx;
      if (kept === 1) fb /= 2;
      kept = 1;
    } else {
      b = x;
      fb = fx;
      if (kept === -1) fa /= 2;
      kept = -1;
    }
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}
