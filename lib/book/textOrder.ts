/** Which of two texts comes first, by the code of the characters: the same on every machine, as `localeCompare` is not. For `sort`. */
export const textOrder = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
