import { thirdOctaveBands, thirdOctaveLevelsDb } from '../../../src/acoustics/index.ts'
import { microphoneOffsetDb } from '../../../src/acoustics/measuring/practice-recording.ts'
import { practiceTake } from '../../../src/engine/questions/compare/practice.ts'
import type { PracticeName, PracticeTruth } from '../../../src/engine/questions/compare/practice-terms.ts'
import { rig } from './plain-rig.ts'
import { c, once, plain, printedSpeed, type Routes, route } from './route.ts'

// The practice recordings a second time: the page analyses them as recordings; here the levels follow from what was planted.

const bands = thirdOctaveBands(25, 16000)
const taken = new Map<PracticeName, ReturnType<typeof practiceTake>>()
const take = (name: PracticeName) => {
  const known = taken.get(name) ?? practiceTake(name, 7, { rig })
  taken.set(name, known)
  return known
}
const ranges = { bass: [40, 160], treble: [2000, 16000] } as const
const powerOf = (levelDb: number) => 10 ** (levelDb / 10)
const lg = (power: number) => 10 * Math.log10(power)

type Pair = { front: number[]; behind: number[] }
/** Sums of powers over a range: front less behind. */
const dropOver = ({ front, behind }: Pair, range: keyof typeof ranges): number => {
  const [from, to] = ranges[range]
  const sum = (levels: number[]) =>
    bands.reduce(
      (all, { nominalHz }, i) => (nominalHz >= from && nominalHz <= to ? all + powerOf(levels[i] as number) : all),
      0,
    )
  return lg(sum(front) / sum(behind))
}
const offsets = (of: PracticeTruth['microphones'], place: 'front' | 'behind') =>
  bands.map(({ centreHz }) => microphoneOffsetDb(of[place], centreHz))

/** Levels that arrive, through microphones of which the one behind has been matched to the other, dB. */
function planted(name: PracticeName): Pair {
  const { truth } = take(name)
  const matched = take('match').truth.microphones
  const [inFront, atBack] = [offsets(truth.microphones, 'front'), offsets(truth.microphones, 'behind')]
  const [matchFront, matchBack] = [offsets(matched, 'front'), offsets(matched, 'behind')]
  return {
    front: truth.arrivingDb.front.map((level, i) => level + (inFront[i] as number)),
    behind: truth.arrivingDb.behind.map(
      (level, i) =>
        level + truth.volumeChangeDb + (atBack[i] as number) - (matchBack[i] as number) + (matchFront[i] as number),
    ),
  }
}
/**
 * A slow meter: what it showed before falls by e^(−T), what is there rises by the rest. What it remembers came through the microphone in
 * front, and is matched all the same.
 */
const readS = 2 ** 17 / 48000
const read = once((): Pair => {
  const { front, behind } = planted('meter-smoothing')
  const { microphones } = take('match').truth
  const [matchFront, matchBack] = [offsets(microphones, 'front'), offsets(microphones, 'behind')]
  const left = Math.exp(-readS)
  return {
    front,
    behind: behind.map((level, i) => {
      const matchDb = (matchBack[i] as number) - (matchFront[i] as number)
      return lg((1 - left) * powerOf(level + matchDb) + left * powerOf(front[i] as number)) - matchDb
    }),
  }
})
/** Talk and all: levels of the samples themselves, the matching taken off as it was planted. */
const talked = once((): Pair => {
  const { front, behind, truth } = take('talking')
  const levels = (samples: Float32Array) => [...thirdOctaveLevelsDb(samples, 48000, bands)]
  const [inFront, atBack] = [offsets(truth.microphones, 'front'), offsets(truth.microphones, 'behind')]
  const first = levels(front)
  return {
    front: first,
    behind: levels(behind).map((level, i) => level - (atBack[i] as number) + (inFront[i] as number)),
  }
})
const at = (pair: Pair, hz: number) => {
  const i = bands.findIndex(({ nominalHz }) => nominalHz === hz)
  return (pair.front[i] as number) - (pair.behind[i] as number)
}

const clean =
  'levels of the impulse responses here, of recordings with background on the page; slopes inside a band count otherwise'
const speech = 'blocks that fade in and out on the page, the whole recording here, talk at its ends; and background'

/** Trigamma for a large argument: the variance of the logarithm of a mean power of 2x degrees of freedom. */
const trigamma = (x: number) => 1 / x + 1 / (2 * x * x) + 1 / (6 * x ** 3)
const scatter = (seconds: number) => {
  const width = 50.12 * (10 ** 0.05 - 10 ** -0.05)
  return (10 / Math.LN10) * Math.sqrt(trigamma(width * seconds))
}
const smallNumbers = 'exact for noise of that many degrees of freedom here, its first term on the page'

const slips = {
  swapped: () => planted('unmatched-microphones'),
  far: () => planted('unequal-distances'),
  wall: () => planted('wall-behind-microphone'),
  talk: talked,
  meter: read,
  volume: () => planted('volume-changed'),
}
const fair = () => planted('sound')
const withinDb = (row: string) => (row === 'talk' ? 0.5 : 0.2)
const why = (row: string) => (row === 'talk' ? speech : clean)

export const compareRoutes: Routes = {
  ...Object.fromEntries(
    Object.entries(slips).flatMap(([row, pair]) =>
      (['bass', 'treble'] as const).map((range) => [
        `${range}-${row}`,
        route(() => dropOver(pair(), range), withinDb(row), why(row)),
      ]),
    ),
  ),
  'bass-fair': route(() => dropOver(fair(), 'bass'), 0.2, clean),
  'treble-fair': route(() => dropOver(fair(), 'treble'), 0.2, clean),
  'more-behind': route(
    () => Object.values(slips).filter((pair) => dropOver(pair(), 'bass') < 0).length,
    1e-9,
    'a whole number',
  ),
  distance: plain(2.5),
  'far-front': plain(5),
  'distance-step': plain(20 * Math.log10(5 / 2.5)),
  'wall-gap': plain(0.7),
  'wall-dip': route(() => c / (4 * 0.7), 0.05, printedSpeed),
  'clear-wall': route(
    () => {
      // Halved until the dip of a point source, 1 − r/(r + 2w), is 3 dB.
      let [low, high] = [0.1, 50]
      for (let round = 0; round < 40; round++) {
        const w = (low + high) / 2
        if (-20 * Math.log10(1 - 2.5 / (2.5 + 2 * w)) > 3) low = w
        else high = w
      }
      return high
    },
    1e-6,
    'halved forty times between 0.1 and 50 m',
  ),
  'talk-counted': route(() => at(talked(), 1000), 0.5, speech),
  'talk-left-out': route(() => at(planted('talking'), 1000), 0.2, clean),
  'meter-read': plain(readS),
  'meter-fall': route(() => -lg(Math.exp(-readS)), 1e-9, 'rounding only'),
  'meter-fall-patient': route(() => -lg(Math.exp(-10)), 1e-9, 'rounding only'),
  'meter-recorded': route(() => at(planted('meter-smoothing'), 4000), 0.2, clean),
  'scatter-short': route(() => scatter(1), 0.05, smallNumbers),
  'scatter-long': route(() => scatter(30), 0.005, smallNumbers),
  'background-clear': route(() => lg(10 ** 1 / (10 ** 1 - 1)), 1e-9, 'rounding only'),
  'background-weak': route(() => lg(10 ** 0.3 / (10 ** 0.3 - 1)), 1e-9, 'rounding only'),
}
