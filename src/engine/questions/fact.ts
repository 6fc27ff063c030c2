import type { Rig } from '../../acoustics/index.ts'

// What the tables of facts have in common: numbers that the words of pages need, computed when the site is built, in the usual air.

/** A number with its unit. Drops, losses and cuts are positive when the place they speak of is quieter. */
export type Fact = { value: number; unit: string }

const inUnit =
  <Unit extends string>(unit: Unit) =>
  (value: number) => ({ value, unit })

export const decibels = inUnit('dB')
export const metres = inUnit('m')
export const squareMetres = inUnit('m²')
export const hertz = inUnit('Hz')
export const seconds = inUnit('s')
export const metresPerSecond = inUnit('m/s')
export const degrees = inUnit('°')
export const sones = inUnit('sone')
export const octaves = inUnit('octaves')
/** How many times as much. */
export const times = inUnit('times')
/** A bare number. */
export const count = inUnit('1')
export const milliseconds = (valueS: number) => inUnit('ms')(1000 * valueS)
export const percent = (share: number) => inUnit('%')(100 * share)

/** The facts of a rig, computed once. */
export function keptByRig<Facts extends Record<string, Fact>>(compute: (rig: Rig) => Facts): (rig: Rig) => Facts {
  const kept = new Map<string, Facts>()
  return (rig) => {
    const facts = kept.get(rig.name) ?? compute(rig)
    kept.set(rig.name, facts)
    return facts
  }
}

/** What the words speak of. Throws Error if it is not there. */
export function needed<T>(value: T | null | undefined, what: string): T {
  if (value === null || value === undefined) throw new Error(`The lesson speaks of ${what}, and there is none.`)
  return value
}

/** The entries of a table of facts, its names made from a prefix and its rows. */
export const factsBy = <Name extends string>(entries: [Name, Fact][]) =>
  Object.fromEntries(entries) as Record<Name, Fact>
