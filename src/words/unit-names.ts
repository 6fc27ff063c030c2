/** Names of units that a field reads besides signs and English names. English needs none; a build in another language has `unitsIn`. */
export const unitNames: Readonly<Record<string, string>> = {}
