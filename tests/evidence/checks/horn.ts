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

const inches: Check = {
  id: 'horn-inches',
  quantity: 'Horn rule in its first form, 10⁶ / (degrees × inches)',
  unit: 'Hz',
  source,
  input: '90°, mouth 10 inches (0.254 m)',
  expected: 1e6 / (90 * 10),
  tolerance: 1e-9,
  toleranceReason: 'the two forms are the same by 1 inch = 0.0254 m; rounding only',
  computed: () => hornControlHz(0.254, 90 * degrees, air),
}

const speed: Check = {
  id: 'horn-speed-of-sound',
  quantity: 'Horn rule at another speed of sound: the same mouth in wavelengths',
  unit: '1',
  source,
  place: 'our reading: a rule of mouth over wavelength',
  input: '90°, mouth 0.26 m; 331.3 m/s against 343.2 m/s',
  expected: 331.3 / 343.2,
  tolerance: 1e-12,
  toleranceReason: 'exact proportion; rounding only',
  computed: () =>
    hornControlHz(0.26, 90 * degrees, { ...air, speedOfSoundMps: 331.3 }) / hornControlHz(0.26, 90 * degrees, air),
}

/** The rule for the lower limit of a horn's coverage. */
export const hornChecks: CheckGroup = { title: 'Horn mouth', checks: [...table, inches, speed] }
