import {
  criticalDistanceM,
  decayTimeS,
  gradientPair,
  type Hall,
  type HallSurface,
  hallField,
  hallSurfaces,
  joiningFrequencyHz,
  makeAir,
  monopole,
  type PlacedSource,
  type Point,
  reverberantLevelDb,
  roomConstantM2,
  shoeboxModesHz,
} from '../../../src/acoustics/index.ts'
import { type Check, type CheckGroup, fromMemory } from '../check.ts'
import digits from '../reference/hall-digits.json' with { type: 'json' }

const air = makeAir()
const radiation = (frequencyHz: number) => monopole(frequencyHz, air)
const pointSource = (position: Point): PlacedSource => ({
  radiation,
  position,
  yawRad: 0,
  gain: 1,
  delayS: 0,
  polarity: 1,
})
const pointOf = (place: readonly number[]): Point => ({
  xM: place[0] as number,
  yM: place[1] as number,
  zM: place[2] as number,
})

/** The hall of the digits; alphas are [low, high] along x, y, z, in the order of hallSurfaces. */
function hallOf(alphas: readonly (readonly number[])[]): Hall {
  const surfaces = Object.fromEntries(
    hallSurfaces.map((surface, i) => [surface, () => alphas[Math.floor(i / 2)]?.[i % 2] as number]),
  ) as Record<HallSurface, () => number>
  return { lengthM: 18, widthM: 11, heightM: 4.6, absorption: () => Number.NaN, surfaces }
}

const place = { xM: 1.3, yM: 0.8, zM: 2.1 }
const sourcesOf = (kind: string): PlacedSource[] =>
  kind === 'pair' ? gradientPair({ spacingM: 1, centre: place, yawRad: 0.4, radiation }, air) : [pointSource(place)]

/** Rows of one hall, source and frequency, four places each. */
const imageGroups = Map.groupBy(digits.images, ({ hall, source, frequencyHz }) => `${hall}, ${source}, ${frequencyHz}`)

const imageChecks: Check[] = [...imageGroups.values()].map((rows) => {
  const first = rows[0] as (typeof digits.images)[number]
  return {
    id: `hall-images-${first.hall.replaceAll(' ', '-').replace('.', '-')}-${first.source}-${first.frequencyHz}`,
    quantity: 'Hall by early images and resonances against the plain sum of images: r.m.s. difference over four places',
    unit: '%',
    source: 'numpy',
    place: 'hall-digits.py, images',
    input: `${first.source === 'pair' ? 'gradient pair' : 'point source'}, ${first.frequencyHz} Hz, hall of 18 × 11 × 4.6 m, absorption ${first.hall}`,
    expected: 0,
    relation: 'at most',
    tolerance: 5,
    toleranceReason:
      'the plain sum is itself cut at −100 dB an image: a cut at −88 dB moves it by up to 3 %; 5 % is 0.4 dB',
    computed: () => {
      const field = hallField(sourcesOf(first.source), hallOf(first.alphas), first.frequencyHz, air)
      let error = 0
      let whole = 0
      for (const row of rows) {
        const { re, im } = field(pointOf(row.listener))
        error += (re - row.re) ** 2 + (im - row.im) ** 2
        whole += row.re ** 2 + row.im ** 2
      }
      return 100 * Math.sqrt(error / whole)
    },
  }
})

const cornerSource = [pointSource({ xM: -5.4, yM: 0.1, zM: 0.1 })]

const modeSumChecks: Check[] = digits.modes.map(({ alphas, frequencyHz, listener, re, im }, index) => ({
  id: `hall-mode-sum-${String(frequencyHz).replace('.', '-')}-${index % 2 === 0 ? 'corner' : 'middle'}`,
  quantity: 'Hall by images against a sum over resonances: level',
  unit: 'dB re 1 Pa',
  source: 'numpy',
  place: 'hall-digits.py, modes',
  input: `point source near a corner, ${frequencyHz} Hz, listener (${listener.join(', ')}) m, α = 0.02 everywhere`,
  expected: 20 * Math.log10(Math.hypot(re, im)),
  tolerance: 1.5,
  toleranceReason:
    'with one reflection factor for all angles images also lose at walls that a wave grazes; the sum over resonances leaves that out, up to 1 dB at the peak of an axial one',
  computed: () => {
    const pressure = hallField(cornerSource, hallOf(alphas), frequencyHz, air)(pointOf(listener))
    return 20 * Math.log10(Math.hypot(pressure.re, pressure.im))
  },
}))

/**
 * The resonances from 15 to 60 Hz that have no neighbour within 2.2 %, straight from f = (c/2) √(Σ (n/L)²) with c = 343.2 m/s, Hz; orders
 * along 18, 11 and 4.6 m.
 */
const aloneHz = [
  { orders: '0, 1, 0', frequencyHz: 15.6 },
  { orders: '1, 1, 0', frequencyHz: 18.2824 },
  { orders: '2, 0, 0', frequencyHz: 19.0667 },
  { orders: '2, 1, 0', frequencyHz: 24.6353 },
  { orders: '3, 0, 0', frequencyHz: 28.6 },
  { orders: '0, 2, 0', frequencyHz: 31.2 },
  { orders: '2, 1, 1', frequencyHz: 44.7047 },
]

/** Frequency of the highest level within 2 % of a start, in steps of 0.05 %, from corner to corner. */
function peakNearHz(startHz: number): number {
  const hall = hallOf([
    [0.02, 0.02],
    [0.02, 0.02],
    [0.02, 0.02],
  ])
  const listener = { xM: 5.45, yM: 0.05, zM: 17.95 }
  let best = { frequencyHz: 0, square: 0 }
  for (let step = -40; step <= 40; step++) {
    const frequencyHz = startHz * (1 + step * 5e-4)
    const { re, im } = hallField(cornerSource, hall, frequencyHz, air)(listener)
    if (re * re + im * im > best.square) best = { frequencyHz, square: re * re + im * im }
  }
  return best.frequencyHz
}

const peakChecks: Check[] = aloneHz.map(({ orders, frequencyHz }) => ({
  id: `hall-peak-${orders.replaceAll(', ', '-')}`,
  quantity: 'Peak of the sum of images near a resonance of the rigid hall',
  unit: 'Hz',
  source: 'kuttruff-room-acoustics',
  place: 'resonances of a box-shaped room',
  input: `orders ${orders}, 18 × 11 × 4.6 m, α = 0.02, corner to corner, searched within 2 %`,
  expected: frequencyHz,
  tolerance: 0.01 * frequencyHz,
  toleranceReason: '1 %: absorption and the feet of other resonances move a peak by less',
  computed: () => peakNearHz(frequencyHz),
}))

/** Lowest resonances of 4.7 × 4.1 × 3.1 m, c = 340 m/s. */
const listedHz = [
  36.17, 41.46, 54.84, 55.02, 65.69, 68.75, 72.34, 77.68, 82.93, 83.38, 90.47, 90.78, 99.42, 99.8, 105.79, 108.51,
  109.68, 110.05, 115.49, 116.16,
]
const tableChecks: Check[] = listedHz.map((expected, index) => ({
  id: `hall-mode-table-${index + 1}`,
  quantity: `Resonance ${index + 1} of a room`,
  unit: 'Hz',
  source: fromMemory,
  place: 'usually found in Kuttruff, Room Acoustics, table of the resonances of a box-shaped room',
  input: '4.7 × 4.1 × 3.1 m, c = 340 m/s',
  expected,
  tolerance: 0.0051,
  toleranceReason: 'the table is rounded to 0.01 Hz',
  computed: () => {
    const size = { lengthM: 4.7, widthM: 4.1, heightM: 3.1 }
    return shoeboxModesHz(size, 200, { ...air, speedOfSoundMps: 340 })[index]?.frequencyHz ?? Number.NaN
  },
}))

/** The machine room of the worked example: S = 61 m², α = 0.2. Air with ρc = 400, to which the example's formula applies. */
const machineRoom: Hall = { lengthM: 5, widthM: 3, heightM: 1.9375, absorption: () => 0.2 }
const plainAir = { ...air, densityKgM3: 400 / air.speedOfSoundMps }
const example = {
  source: 'engineering-toolbox-room-constant',
  place: 'example: received sound',
  input: 'absorption area 12.2 m², α = 0.2 (5 × 3 × 1.94 m), ρc = 400, 63 Hz',
}
/** Free-field level of a source: L_W + 10 lg Q/(4πr²) for ρc = 400. */
const directDb = (powerLevelDb: number, distanceM: number, directivityFactor = 1): number =>
  powerLevelDb + 10 * Math.log10(directivityFactor / (4 * Math.PI * distanceM ** 2))

const statistics: Check[] = [
  {
    id: 'hall-room-constant',
    quantity: 'Room constant',
    unit: 'm²',
    ...example,
    expected: 15.3,
    tolerance: 0.06,
    toleranceReason: 'the example is rounded to 0.1 m²; 0.003 m² of absorption by the air',
    computed: () => roomConstantM2(machineRoom, 63, plainAir),
  },
  {
    id: 'hall-direct-and-reverberant',
    quantity: 'Direct and reverberant sound together',
    unit: 'dB',
    ...example,
    input: `${example.input}; 90 dB of power, 2 m away, Q = 1`,
    expected: 84.5,
    tolerance: 0.06,
    toleranceReason:
      'rounded to 0.1 dB; the page prints 84.8 dB, but its own formula and numbers, 90 + 10 lg(1/(4π 2²) + 4/15.3), give 84.5 dB',
    computed: () =>
      10 * Math.log10(10 ** (directDb(90, 2) / 10) + 10 ** (reverberantLevelDb(90, machineRoom, 63, plainAir) / 10)),
  },
  ...[0, 3, 9].map(
    (directivityIndexDb): Check => ({
      id: `hall-critical-distance-${directivityIndexDb}`,
      quantity: 'Direct less reverberant level at the critical distance',
      unit: 'dB',
      source: 'hopkins-stryker-1948',
      place: 'Q/(4πr²) against 4/R',
      input: `directivity index ${directivityIndexDb} dB, hall of 18 × 11 × 4.6 m, α = 0.15, 500 Hz, ρc = 400`,
      expected: 0,
      tolerance: 1e-9,
      toleranceReason: 'both are equal by definition; rounding of double precision',
      computed: () => {
        const hall: Hall = { lengthM: 18, widthM: 11, heightM: 4.6, absorption: () => 0.15 }
        const distanceM = criticalDistanceM(directivityIndexDb, hall, 500, plainAir)
        return directDb(100, distanceM, 10 ** (directivityIndexDb / 10)) - reverberantLevelDb(100, hall, 500, plainAir)
      },
    }),
  ),
  {
    id: 'hall-critical-distance-from-decay',
    quantity: 'Critical distance against 0.057 √(V/T)',
    unit: 'm',
    source: fromMemory,
    place: 'usually found in handbooks of room acoustics, for a small absorption',
    input: 'hall of 18 × 11 × 4.6 m, α = 0.02, Sabine decay time, 125 Hz, Q = 1',
    expected: 0.057 * Math.sqrt(910.8 / ((0.161 * 910.8) / (0.02 * 662.8))),
    tolerance: 0.014,
    toleranceReason:
      '0.057 is rounded to 1 % and the rule leaves out 1 − α, half of 2 % of the distance, and the air, 0.5 %',
    computed: () => criticalDistanceM(0, { lengthM: 18, widthM: 11, heightM: 4.6, absorption: () => 0.02 }, 125, air),
  },
  {
    id: 'hall-sabine-classroom',
    quantity: 'Decay time by Sabine',
    unit: 's',
    source: 'shaalaa-sabine-example',
    place: 'worked example: T = 3 s has an absorption area of 25.76 m² and ᾱ = 0.068',
    input: 'classroom of 10 × 8 × 6 m, absorption area 25.76 m², 63 Hz',
    expected: 3,
    tolerance: 0.012,
    toleranceReason: '0.161 is rounded to 0.3 %; 0.03 m² of absorption by the air at 63 Hz is 0.1 %',
    computed: () =>
      decayTimeS({ lengthM: 10, widthM: 8, heightM: 6, absorption: () => 25.76 / 376 }, 63, air, 'sabine'),
  },
  {
    id: 'hall-joining-frequency',
    quantity: 'Frequency above which the hall is a matter of statistics',
    unit: 'Hz',
    source: 'schroeder-kuttruff-1962',
    place: '2000 √(T/V)',
    input: 'hall of 18 × 11 × 4.6 m whose absorption gives T = 1.5 s by Eyring',
    expected: 81.16,
    tolerance: 0.2,
    toleranceReason: 'absorption by the air takes 0.3 % off T',
    // 55.26 V/(c T) = 97.77 m² = −S ln(1 − α)
    computed: () =>
      joiningFrequencyHz(
        { lengthM: 18, widthM: 11, heightM: 4.6, absorption: () => 1 - Math.exp(-97.77 / 662.8) },
        air,
      ),
  },
]

export const hallChecks: CheckGroup = {
  title: 'A hall: images, resonances and the reverberant field',
  checks: [...statistics, ...tableChecks, ...peakChecks, ...imageChecks, ...modeSumChecks],
}
