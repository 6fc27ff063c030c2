import { bassShare, zwickerLoudness } from '../../../src/acoustics/index.ts'
import type { CheckGroup } from '../check.ts'
import headline from '../reference/headline-digits.json' with { type: 'json' }

const program = headline.source.split(', ').slice(1).join(', ')

/** The standard's loudness below 250 Hz by another program, written from the standard's tables. */
export const bassShareChecks: CheckGroup = {
  title: 'Bass share of the loudness',
  checks: headline.bassShare.flatMap(({ name, field, levelsDb, sones, bassShare: expected }, index) => {
    const loudness = () => zwickerLoudness(levelsDb, field as 'free' | 'diffuse')
    const shared = {
      kind: 'outside' as const,
      source: 'iso-532-1',
      input: `${name}, ${field} field`,
    }
    return [
      {
        ...shared,
        id: `bass-share-${index + 1}`,
        about: ['bass-share' as const],
        quantity: 'Share of the loudness below 250 Hz',
        unit: '1',
        place: `clause 5 and Annex A, worked by headline-digits.py (${program}); where 250 Hz lies is our choice`,
        expected,
        tolerance: 0.001 * expected,
        toleranceReason: 'summed from samples 0.1 Bark apart, which is within 0.1 % of the exact area',
        computed: () => bassShare(loudness().specific),
      },
      {
        ...shared,
        id: `bass-share-whole-${index + 1}`,
        quantity: 'Loudness, by another program',
        unit: 'sone',
        place: `clause 5 and Annex A, worked by headline-digits.py (${program})`,
        expected: sones,
        tolerance: 1e-6,
        toleranceReason: 'both integrate the same straight pieces exactly; digits are kept to 1e-7',
        computed: () => loudness().sones,
      },
    ]
  }),
}
