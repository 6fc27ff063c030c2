import type { ComparedBand } from '../../acoustics/index.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { moreWords, tenthsText } from '../../words/levels.ts'
import { shortText } from '../../words/numbers.ts'
import * as say from './measured.messages.ts'

// A measured difference beside the predicted one, both rear less front.

type Pair = { nominalHz: number; measuredDb: number; predictedDb: number }

/** The third octaves that were measured at both places. */
const pairsOf = (bands: readonly ComparedBand[], predictedDb: readonly number[]): Pair[] =>
  bands.flatMap(({ nominalHz, difference }, band) => {
    const predicted = predictedDb[band]
    return difference && predicted !== undefined
      ? [{ nominalHz, measuredDb: -difference.levelDb, predictedDb: predicted }]
      : []
  })

/** How near they are, and over which bands. */
export function nearnessWords(bands: readonly ComparedBand[], predictedDb: readonly number[]): string {
  const pairs = pairsOf(bands, predictedDb)
  const [first, last] = [pairs[0], pairs.at(-1)]
  if (!first || !last) return say.notEnough()
  const offDb = ({ measuredDb, predictedDb: predicted }: Pair) => measuredDb - predicted
  const farthest = pairs.reduce((most, next) => (Math.abs(offDb(next)) > Math.abs(offDb(most)) ? next : most), first)
  return say.near({
    average: shortText(pairs.reduce((sum, pair) => sum + Math.abs(offDb(pair)), 0) / pairs.length, 1),
    count: pairs.length,
    from: frequencyText(first.nominalHz),
    to: frequencyText(last.nominalHz),
    frequency: frequencyText(farthest.nominalHz),
    level: moreWords(offDb(farthest)),
  })
}

/** One row for each third octave. */
export const measuredRows = (bands: readonly ComparedBand[], predictedDb: readonly number[]): string[][] =>
  bands.map(({ nominalHz, difference }, band) => [
    frequencyText(nominalHz),
    difference ? tenthsText(-difference.levelDb) : say.notMeasured(),
    tenthsText(predictedDb[band] ?? 0),
  ])
