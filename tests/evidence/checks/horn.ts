import { makeAir } from '../../../src/acoustics/medium/air.ts'
import { hornControlHz } from '../../../src/acoustics/radiation/horn-control.ts'
import type { Check, CheckGroup } from '../check.ts'
import reference from '../reference/radiation.json' with { type: 'json' }

const idPart = (value: number): string => String(value).replace('.', '-')

const source = 'keele-1975-exponential-horns'
const degrees = Math.PI / 180
const air = { ...makeAir(), speedOfSoundMps: 343.2 }

const table: Check[] = reference.horn.values.map(({ angleDegrees, mouth_m, frequency }) => ({
  id: `horn-${angleDegrees}-${idPart(mouth_m)}`,
  kind: 'outside',
  quantity: 'Frequency below which a horn loses its coverage angle',
  unit: 'Hz',
  source,
  place: '10⁶ inch degrees Hz, that is 25 400 m degrees Hz',
  input: `${angleDegrees}°, mouth ${mouth_m} m, 343.2 m/s`,
  expected: frequency,
  tolerance: 0.05,
  toleranceReason: 'half of the last digit given',
  computed: () => hornControlHz(mouth_m, angleDegrees * degrees, air),
}))

/** The rule for the lower limit of a horn's coverage. */
export const hornChecks: CheckGroup = { title: 'Horn mouth', checks: table }
