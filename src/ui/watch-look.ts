/** Tells of all that changes how a picture looks while the page itself stays: light or dark, forced colours, and the screen's pixels. */
export function watchLook(hooks: { colours(): void; pixels(): void }): void {
  for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) window.matchMedia(query).addEventListener("change", () => hooks.colours());
  // a query knows one ratio only, so that each change asks anew
  const next = (): void =>
    window.matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`).addEventListener(
      "change",
      () => {
        hooks.pixels();
        next();
      },
      { once: true },
    );
  next();
}
