import type { Rig } from '../../../acoustics/index.ts'
import { count, decibels, type Fact, percent } from '../fact.ts'
import { comparedAtM, dropsBehind } from './walk-facts.ts'

/**
 * What several rigs span straight behind, against the front at the same distance (comparedAtM from the front face), in free air:
 * for sentences that speak of loudspeakers and not of one rig. "power" is the ratio behind : front.
 *
 * @param rigs         their solved cabinets at hand
 * @throws RangeError  without a rig, or for one that is not sound
 */
export function rangeFacts(rigs: readonly Rig[]) {
  if (rigs.length === 0) throw new RangeError('rigs has 0 rigs; allowed is 1 or more')
  const drops = rigs.map((rig) => dropsBehind(rig, comparedAtM))
  const [bassDb, trebleDb] = [drops.map(({ bass }) => bass), drops.map(({ treble }) => treble)]
  const power = (dropDb: number) => percent(10 ** (-dropDb / 10))
  return {
    rigs: count(rigs.length),
    'bass-least': decibels(Math.min(...bassDb)),
    'bass-most': decibels(Math.max(...bassDb)),
    'treble-least': decibels(Math.min(...trebleDb)),
    'treble-most': decibels(Math.max(...trebleDb)),
    'bass-power-least': power(Math.max(...bassDb)),
    'bass-power-most': power(Math.min(...bassDb)),
  } satisfies Record<string, Fact>
}
