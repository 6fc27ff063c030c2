import finishes from '../../../content/halls/finishes.json' with { type: 'json' }
import hall from '../../../content/halls/tidewater-grange.json' with { type: 'json' }
import { freeAt, heardAt, trebleDb } from './plain-rig.ts'
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

/** Mean absorption of an empty state in an octave, by the areas of its finishes. */
function meanAbsorption(state: State, octaveHz: number): number {
  const own = hall.states[state].surfaces as Record<string, string>
  const column = finishes.frequenciesHz.indexOf(octaveHz)
  const taken = Object.entries(areas).reduce((sum, [surface, m2]) => {
    const name = (own[surface] ??
      hall.surfaces[surface as keyof typeof hall.surfaces]) as keyof typeof finishes.finishes
    return sum + m2 * (finishes.finishes[name].absorption[column] as number)
  }, 0)
  return taken / surfaceM2
}
/** Absorption by the air at 2 kHz, 20 °C and 50 %: ISO 9613-1 gives 9.9 dB/km, in energy per metre. */
const airPerM = 0.0099 / (10 * Math.log10(Math.E))
const airM2 = 4 * airPerM * volumeM3
const printed = 'the air’s absorption is taken from a printed table, to 1 %, and takes a tenth of the whole at most'

const empty = states.filter((state) => !hall.states[state].people)
const decayS = (alpha: number) => (55.26 / c) * (volumeM3 / (-surfaceM2 * Math.log(1 - alpha) + airM2))
const field = (what: string) =>
  readOut(
    what,
    'hall-direct-and-reverberant',
    'hall-critical-distance-3',
    'hall-images-six-surfaces-point-60',
    'hall-joining-frequency',
  )
const people = (what: string) =>
  readOut(`${what} with the audience's absorption`, 'hall-room-constant', 'hall-sabine-classroom')
const ofStates = (name: string, make: (state: State) => Route): Routes =>
  Object.fromEntries(states.map((state) => [`${name}-${state}`, make(state)]))

const table = hall.listenerPlaces.tables
const free =
  (zM: number, xM = 0) =>
  (hz: number) =>
    freeAt({ xM, yM: 1.6, zM }, hz)
const distanceM = Math.hypot(table.xM, table.zM)
const bassShare = once(() => heardAt(free(table.zM, table.xM)).share)

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

export const hallRoutes: Routes = {
  ...ofStates('treble', () => field('level of the treble in the hall')),
  ...ofStates('decay', (state) =>
    empty.includes(state)
      ? route(() => decayS(meanAbsorption(state, 2000)), 0.01 * decayS(meanAbsorption(state, 2000)), printed)
      : people('decay time'),
  ),
  ...ofStates('critical', () => field('distance at which direct and other sound are equal')),
  ...ofStates('bass-share', () => readOut('loudness of the levels in the hall', 'bass-share-4', 'loudness-signal-1')),
  ...ofStates('absorption', (state) =>
    empty.includes(state)
      ? route(() => 100 * meanAbsorption(state, 2000), 0.05, 'means of a printed table, at 2 kHz instead of 1995 Hz')
      : people('mean absorption'),
  ),
  'share-timber': field('share of the hall in the sound'),
  'treble-outdoors': route(
    () => trebleDb(free(distanceM)) - trebleDb(free(table.zM, table.xM)),
    0.1,
    'a third octave has 8 lines on the page and 24 here',
  ),
  'bass-share-outdoors': route(() => 100 * bassShare(), 0.5, 'a third octave has 8 lines on the page and 24 here'),
  'critical-250': field('distance at which direct and other sound are equal'),
  'table-distance': plain(distanceM),
  volume: plain(volumeM3),
  surface: plain(surfaceM2),
  'mean-absorption': route(() => alphaTimber, 0.0005, 'means of a printed table, at 2 kHz instead of 1995 Hz'),
  'room-constant': route(() => constantM2, 0.01 * constantM2, printed),
  'decay-sabine': route(() => (55.26 / c) * (volumeM3 / (surfaceM2 * alphaTimber + airM2)), 0.02, printed),
  'critical-on-axis': field('distance at which direct and other sound are equal'),
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
    'hall-images-six-surfaces-point-60',
    'hall-images-even-0-15-point-35',
  ),
  'map-quietest': readOut(
    'loudest and quietest place of a map of the hall',
    'hall-images-six-surfaces-point-60',
    'hall-images-even-0-15-point-35',
  ),
  'far-share': field('share of the hall in the sound'),
  'far-distance': plain(12),
}
