import content from '../../../content/halls/finishes.json' with { type: 'json' }

/** The name of a finish. */
export type Finish = keyof typeof content.finishes

/** What a wall that stands alone may be made of, in the order in which it is offered; hall-content.ts checks that there are such finishes. */
export const wallFinishNames = content.offeredForOneWall as Finish[]

/** Absorption coefficients of a finish by octave. Throws RangeError for a name that the list does not have. */
export function finishOf(name: string): { title: string; frequenciesHz: number[]; absorption: number[] } {
  if (!Object.hasOwn(content.finishes, name)) {
    throw new RangeError(`finish is ${name}; allowed is ${Object.keys(content.finishes).join(', ')}`)
  }
  const { title, absorption } = content.finishes[name as Finish]
  return { title, frequenciesHz: content.frequenciesHz, absorption }
}

/** What each finish is called, in the order of the file. */
export const finishTitles: Readonly<Record<string, string>> = Object.fromEntries(
  Object.entries(content.finishes).map(([name, { title }]) => [name, title]),
)
