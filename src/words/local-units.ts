/** Units that browsers have names for, with the signs that fields read. */
const signs = [
  ['meter', 'm'],
  ['centimeter', 'cm'],
  ['millimeter', 'mm'],
  ['foot', 'ft'],
  ['inch', 'in'],
  ['second', 's'],
  ['millisecond', 'ms'],
  ['degree', '°'],
] as const

/** What a language calls units, in small letters, one and several: 'metro' and 'metros' → 'm'. */
export function unitsIn(language: string): Record<string, string> {
  const nameOf = (unit: string, count: number) =>
    new Intl.NumberFormat(language, { style: 'unit', unit, unitDisplay: 'long' })
      .formatToParts(count)
      .find(({ type }) => type === 'unit')
      ?.value.toLocaleLowerCase(language) ?? ''
  return Object.fromEntries(signs.flatMap(([unit, sign]) => [1, 2, 5].map((count) => [nameOf(unit, count), sign])))
}
