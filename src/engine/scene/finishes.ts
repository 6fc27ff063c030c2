import finishes from '../../../content/halls/finishes.json' with { type: 'json' }

/** Absorption coefficients of a finish by octave. Throws RangeError for a name that the list does not have. */
export function finishOf(name: string): { title: string; frequenciesHz: number[]; absorption: number[] } {
  const found = finishes.finishes.find(({ id }) => id === name)
  if (!found) {
    throw new RangeError(`finish is ${name}; allowed is ${finishes.finishes.map(({ id }) => id).join(', ')}`)
  }
  return { title: found.title, frequenciesHz: finishes.frequenciesHz, absorption: found.absorption }
}
