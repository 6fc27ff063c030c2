import finishes from '../../../content/halls/finishes.json' with { type: 'json' }
import hall from '../../../content/halls/tidewater-grange.json' with { type: 'json' }
import {
  crossing,
  freeAt,
  groundLines,
  heardAt,
  lineOf,
  linesBetween,
  onGroundAt,
  power,
  rig,
  trebleDb,
} from './plain-rig.ts'
import { c, once, plain, type Route, type Routes, readOut, route } from './route.ts'

const { lengthM: L, widthM: W, heightM: H } = hall
const volumeM3 = L * W * H
const surfaceM2 = 2 * (L * W + L * H + W * H)
const areas: Record<string, number> = {
  wallLeft: L * H,
  wallRight: L * H,
  floor: L * W,
  ceiling: L * W,
  wallBehind: W * H,
  wallOpposite: W * H,
}
type State = keyof typeof hall.states
const states = Object.keys(hall.states) as State[]

/** A table of octaves on straight lines over lg f, held beyond both ends. */
function between(absorption: number[], hz: number): number {
  const octave = Math.min(absorption.length - 1, Math.max(0, Math.log2(hz / 125)))
  const i = Math.min(absorption.length - 2, Math.floor(octave))
  return (i + 1 - octave) * (absorption[i] as number) + (octave - i) * (absorption[i + 1] as number)
}
/** People stand on this much floor, which they cover. */
const crowd = finishes.people[hall.audience.kind as keyof typeof finishes.people]
const crowdM2 = hall.audience.people / crowd.perM2

/** Mean absorption of a state, by the areas of its finishes and of people. */
function meanAbsorption(state: State, hz: number): number {
  const own = hall.states[state].surfaces as Record<string, string>
  const taken = Object.entries(areas).reduce((sum, [surface, m2]) => {
    const name = (own[surface] ??
      hall.surfaces[surface as keyof typeof hall.surfaces]) as keyof typeof finishes.finishes
    const coveredM2 = surface === 'floor' && hall.states[state].people ? crowdM2 : 0
    return (
      sum +
      (m2 - coveredM2) * between(finishes.finishes[name].absorption, hz) +
      coveredM2 * between(crowd.absorption, hz)
    )
  }, 0)
  return taken / surfaceM2
}
/** Absorption by the air at 2 kHz, 20 °C and 50 %: ISO 9613-1 gives 9.9 dB/km, in energy per metre. */
const airPerM = 0.0099 / (10 * Math.log10(Math.E))
const airM2 = 4 * airPerM * volumeM3
const printed = 'the air’s absorption is taken from a printed table, to 1 %, and takes a tenth of the whole at most'

/** The same at any frequency, by the formulas of ISO 9613-1 at 20 °C, 50 % and 101.325 kPa, 1/m. */
function airPerMAt(hz: number): number {
  const vapour = 50 * 10 ** (4.6151 - 6.8346 * (273.16 / 293.15) ** 1.261)
  const oxygenHz = 24 + (40_400 * vapour * (0.02 + vapour)) / (0.391 + vapour)
  const nitrogenHz = 9 + 280 * vapour
  const oxygen = (0.01275 * Math.exp(-2239.1 / 293.15)) / (oxygenHz + hz ** 2 / oxygenHz)
  const nitrogen = (0.1068 * Math.exp(-3352 / 293.15)) / (nitrogenHz + hz ** 2 / nitrogenHz)
  return 2 * hz ** 2 * (1.84e-11 + oxygen + nitrogen)
}
/** R = (Sᾱ + 4mV)/(1 − ᾱ), m². */
const constantAt = (state: State, hz: number): number => {
  const mean = meanAbsorption(state, hz)
  return (surfaceM2 * mean + 4 * airPerMAt(hz) * volumeM3) / (1 - mean)
}

/** Even directions over the half sphere to the right: the rig is alike on both sides. */
const directions = Array.from({ length: 1000 }, (_, i) => {
  const turn = i / 1.618033988749895
  const [cos, angle] = [1 - (2 * i + 1) / 1000, Math.PI * (turn - Math.floor(turn))]
  const sin = Math.sqrt(1 - cos * cos)
  return { xM: sin * Math.sin(angle), yM: sin * Math.cos(angle), zM: cos }
})
/** Mean square times the square of the distance over all directions, far from the rig; by band, of a few lines. */
const spread = new Map<number, number>()
function spreadAt(centreHz: number): number {
  const farM = 200
  let known = spread.get(centreHz)
  if (known === undefined) {
    const lines = linesBetween(centreHz * 10 ** -0.05, centreHz * 10 ** 0.05, 3)
    const sum = lines.reduce((total, hz) => {
      const at = lineOf(rig, hz)
      return directions.reduce(
        (part, { xM, yM, zM }) => part + power(at({ xM: farM * xM, yM: 1 + farM * yM, zM: farM * zM })),
        total,
      )
    }, 0)
    known = (farM ** 2 * sum) / (lines.length * directions.length)
    spread.set(centreHz, known)
  }
  return known
}
/** The even field, 4ρcW/R with W = 4πr²·p²/ρc, over the mean of all directions. */
const evenAt = (state: State, centreHz: number): number =>
  (16 * Math.PI * spreadAt(centreHz)) / constantAt(state, centreHz)
/** Where the direct sound straight ahead has fallen to the even field, over the octave about 2 kHz. */
const formulaM = (state: State) => {
  const centres = [3.2, 3.3, 3.4].map((decade) => 10 ** decade)
  const even = centres.reduce((sum, hz) => sum + evenAt(state, hz), 0)
  const direct = (zM: number) =>
    centres.reduce(
      (sum, hz) =>
        sum +
        linesBetween(hz * 10 ** -0.05, hz * 10 ** 0.05, 24).reduce((part, f) => part + power(free(zM)(f)), 0) / 24,
      0,
    )
  return crossing((zM) => direct(zM) - even, 1, 30, 12)
}
const formulaRoute = (state: State, sizeM: number) =>
  route(
    () => formulaM(state),
    0.03 * sizeM,
    'the page reads the power in the middle of a third octave, between lines of 1/6 octave: some per cent where it dips at the crossover, of which the distance has half',
  )
const evenShare = once(
  () =>
    heardAt(
      (hz) => {
        const centreHz = 10 ** (Math.round(10 * Math.log10(hz)) / 10)
        return { re: Math.sqrt(power(free(table.zM, table.xM)(hz)) + evenAt('brick', centreHz)), im: 0 }
      },
      24,
      'diffuse',
    ).share,
)

const decayS = (alpha: number) => (55.26 / c) * (volumeM3 / (-surfaceM2 * Math.log(1 - alpha) + airM2))
const field = (what: string) =>
  readOut(
    what,
    'hall-direct-and-reverberant',
    'hall-balance-0-08-beam',
    'hall-balance-0-25-beam',
    'hall-field-six-surfaces-point-60',
    'hall-joining-frequency',
  )
const balance = readOut(
  'distance at which direct sound and all that the hall adds are equally strong',
  'hall-balance-0-08-beam',
  'hall-balance-0-08-even',
  'hall-balance-0-25-beam',
  'hall-balance-0-25-even',
)
const ofStates = (name: string, make: (state: State) => Route): Routes =>
  Object.fromEntries(states.map((state) => [`${name}-${state}`, make(state)]))

const table = hall.listenerPlaces.tables
const free =
  (zM: number, xM = 0) =>
  (hz: number) =>
    freeAt({ xM, yM: 1.6, zM }, hz)
const distanceM = Math.hypot(table.xM, table.zM)
const bassShare = once(() => heardAt(free(table.zM, table.xM)).share)
const grounded =
  (zM: number, xM = 0) =>
  (hz: number) =>
    onGroundAt({ xM, yM: 1.6, zM }, hz)
const bassShareOutdoors = once(() => heardAt(grounded(table.zM, table.xM), groundLines).share)
const inFreeAir = 'a third octave has 8 lines on the page and 24 here'
const onGround = 'a third octave has 24 lines on the page and 120 here'

const alphaTimber = meanAbsorption('timber', 2000)
const constantM2 = (surfaceM2 * alphaTimber + airM2) / (1 - alphaTimber)

/** Resonances of the rigid box by three nested loops, Hz. */
const resonances = (belowHz: number): number[] => {
  const found: number[] = []
  for (let x = 0; x < 60; x++)
    for (let y = 0; y < 60; y++)
      for (let z = 0; z < 60; z++) {
        const hz = (c / 2) * Math.hypot(x / L, y / W, z / H)
        if (hz > 0 && hz <= belowHz) found.push(hz)
      }
  return found.sort((a, b) => a - b)
}
/** 2000 √(T/V) where it meets itself, T by Eyring with the absorption at 125 Hz, held below. */
const joiningHz = () =>
  2000 * Math.sqrt(((55.26 / c) * volumeM3) / (-surfaceM2 * Math.log(1 - meanAbsorption('timber', 125))) / volumeM3)

/** A sheet of a mass by the balance of forces, dB: what arrives has pressure 1, and 2 = |2ρc + jωm| |v|. ρc of air at 20 °C is 413 Pa·s/m. */
const sheetDb = (kgM2: number, hz: number) => -20 * Math.log10((2 * 413) / Math.hypot(2 * 413, 2 * Math.PI * hz * kgM2))
const printedImpedance = 'ρc is printed to the whole Pa·s/m'

export const hallRoutes: Routes = {
  ...ofStates('treble', () => field('level of the treble in the hall')),
  ...Object.fromEntries(
    ['timber', 'brick'].map((state) => [`treble-part-${state}`, field('power of the treble in the hall')]),
  ),
  ...ofStates('decay', (state) =>
    route(() => decayS(meanAbsorption(state, 2000)), 0.01 * decayS(meanAbsorption(state, 2000)), printed),
  ),
  ...ofStates('critical', () => balance),
  ...ofStates('bass-share', () => readOut('loudness of the levels in the hall', 'bass-share-4', 'loudness-signal-1')),
  ...Object.fromEntries(
    ['timber', 'packed'].map((state) => [
      `a-weighted-drop-${state}`,
      readOut('A-weighted levels of the hall’s figure', 'exposure-at-here-85', 'exposure-at-front-85'),
    ]),
  ),
  'sheet-mass': plain(10),
  ...Object.fromEntries(
    (
      [
        ['63', 63],
        ['2k', 2000],
      ] as const
    ).map(([name, hz]) => [`sheet-keeps-${name}`, route(() => sheetDb(10, hz), 0.05, printedImpedance)]),
  ),
  ...ofStates('absorption', (state) =>
    route(() => 100 * meanAbsorption(state, 2000), 0.05, 'means of a printed table, at 2 kHz instead of 1995 Hz'),
  ),
  'share-timber': field('share of the hall in the sound'),
  'treble-free-air': route(() => trebleDb(free(distanceM)) - trebleDb(free(table.zM, table.xM)), 0.1, inFreeAir),
  'bass-share-free-air': route(() => 100 * bassShare(), 0.5, inFreeAir),
  'treble-outdoors': route(
    () => trebleDb(grounded(distanceM), groundLines) - trebleDb(grounded(table.zM, table.xM), groundLines),
    0.1,
    onGround,
  ),
  'bass-share-outdoors': route(() => 100 * bassShareOutdoors(), 0.5, onGround),
  ...Object.fromEntries(
    ['less-timber', 'more-timber', 'less-brick', 'more-brick'].map((name) => [
      `bass-share-${name}`,
      field('bass share with other walls below 125 Hz'),
    ]),
  ),
  'bass-share-even-brick': route(
    () => 100 * evenShare(),
    0.5,
    'the page reads the power between lines of its own, to some per cent: a tenth of a decibel or two in a band',
  ),
  'critical-250': balance,
  'table-distance': plain(distanceM),
  volume: plain(volumeM3),
  surface: plain(surfaceM2),
  'mean-absorption': route(() => alphaTimber, 0.0005, 'means of a printed table, at 2 kHz instead of 1995 Hz'),
  'room-constant': route(() => constantM2, 0.01 * constantM2, printed),
  'decay-sabine': route(() => (55.26 / c) * (volumeM3 / (surfaceM2 * alphaTimber + airM2)), 0.02, printed),
  'critical-formula': formulaRoute('timber', 3.5),
  'critical-formula-packed': formulaRoute('packed', 6),
  'critical-even': route(() => Math.sqrt(constantM2 / (16 * Math.PI)), 0.01, printed),
  joining: route(joiningHz, 0.01 * joiningHz(), 'absorption at the octave of 125 Hz, and none by the air: 1 %'),
  modes: route(
    () => resonances(joiningHz()).length,
    0.03 * resonances(joiningHz()).length,
    'their number grows with the cube of the joining frequency, which is within 1 %',
  ),
  'first-mode': route(() => resonances(20)[0] as number, 0.01, 'the speed of sound is printed to 0.1 m/s'),
  'map-frequency': plain(47),
  'map-over': readOut(
    'loudest and quietest place of a map of the hall',
    'hall-field-six-surfaces-point-60',
    'hall-field-even-0-15-point-35',
  ),
  'map-quietest': readOut(
    'loudest and quietest place of a map of the hall',
    'hall-field-six-surfaces-point-60',
    'hall-field-even-0-15-point-35',
  ),
  'far-share': field('share of the hall in the sound'),
  'far-distance': plain(12),
}
