/** Options of a Select over things that have a key and a short name: rigs, halls. */
export const optionsOf = <Key extends string>(things: readonly { key: Key; short: string }[]) =>
  things.map(({ key, short }) => ({ value: key, text: short }))
