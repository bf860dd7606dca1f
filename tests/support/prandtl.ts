/**
 * Torsion constant of a solid section by Prandtl's stress function: ∇²φ = -2 inside, φ = 0 on the outline, J = 2∫φ.
 * Five-point differences on a grid of step h (mm) with successive over-relaxation; the outline must follow grid lines.
 * The box is w x h_mm about the origin; `inside` tells which cell centres belong to the section.
 */
export function prandtlTorsion(w: number, height: number, inside: (x: number, z: number) => boolean, h: number): number {
  const nx = Math.round(w / h);
  const nz = Math.round(height / h);
  const cell = (i: number, k: number) => i >= 0 && k >= 0 && i < nx && k < nz && inside((i + 0.5) * h - w / 2, (k + 0.5) * h - height / 2);
  const row = nx + 1;
  const phi = new Float64Array(row * (nz + 1));
  // a grid point is free when all four cells around it belong to the section
  const free: number[] = [];
  for (let k = 1; k < nz; k++) {
    for (let i = 1; i < nx; i++) if (cell(i - 1, k - 1) && cell(i, k - 1) && cell(i - 1, k) && cell(i, k)) free.push(k * row + i);
  }
  const omega = 2 / (1 + Math.sin(Math.PI / Math.max(nx, nz)));
  for (let sweep = 0; sweep < 5000; sweep++) {
    let change = 0;
    for (const p of free) {
      const d = omega * ((phi[p - 1]! + phi[p + 1]! + phi[p - row]! + phi[p + row]! + 2 * h * h) / 4 - phi[p]!);
      phi[p] = phi[p]! + d;
      change = Math.max(change, Math.abs(d));
    }
    if (change < 1e-10) break;
  }
  return 2 * h * h * phi.reduce((s, v) => s + v, 0);
}
