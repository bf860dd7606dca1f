/** A text with its first letter large, as it begins a sentence or stands as a title. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
