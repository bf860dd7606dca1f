/** Colour tokens that the drawing uses; their values stand in ui/tokens.css. */
export const TONES = [
  "paper", "sheet", "lift", "rule", "edge", "dot", "ink", "ink-2", "ink-3", "on-ink",
  "arm", "arm-hi", "hub", "chassis", "body-line", "body-wash", "tyre", "tyre-line", "spring", "road", "hole", "plumb",
  "load", "load-wash", "react", "react-wash", "inside", "inside-wash",
  "design-a", "design-b", "design-b-line", "design-b-wash",
  "u-0", "u-0-line", "u-1", "u-1-line", "u-2", "u-2-line", "u-3", "u-3-line", "u-3-text", "focus",
] as const;
