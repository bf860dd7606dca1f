/** Below this the page is laid out for one hand, px; the style sheets say the same. */
const NARROW_PX = 700;
/** Below this the reading stands under the drawing, px; the style sheets say the same. */
const MIDDLE_PX = 1000;

export const isNarrow = (): boolean => window.innerWidth < NARROW_PX;
export const isBelowWide = (): boolean => window.innerWidth < MIDDLE_PX;
