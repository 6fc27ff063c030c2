import type { FaultAnswer, FaultEvidence, RangeFound } from '../../engine/questions/compare/fault-terms.ts'
import { type FoolingTake, foolingTakes, practiceDistanceM } from '../../engine/questions/compare/practice-terms.ts'
import { heardBands } from '../../engine/scene/third-octaves.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { dipFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { fineLengthText, tapeText } from '../../words/lengths.ts'
import { levelText } from '../../words/levels.ts'
import { decimalText, listText, shortText } from '../../words/numbers.ts'
import { practiceKey } from '../compare/describe-take.ts'
import * as say from './find-fault.messages.ts'

// What six recordings with one mistake each show, in words.

/** The causes to choose from, none at the place of its own letter. */
export const offeredCauses = [
  'talking',
  'volume-changed',
  'unmatched-microphones',
  'meter-smoothing',
  'unequal-distances',
  'wall-behind-microphone',
] as const satisfies readonly FoolingTake[]

/** The letter that the practice set gives a recording. */
export const letterOf = (take: FoolingTake): string => String.fromCharCode(65 + foolingTakes.indexOf(take))

export const causeWords = (cause: FoolingTake): string => say.cause({ cause: practiceKey(cause) })

const amount = (levelDb: number) => levelText(Math.abs(levelDb))
const seconds = (timeS: number) => `${shortText(timeS, timeS < 10 ? 1 : 0)} s`

/** Behind against the front: '2 dB less behind'. */
const lessWords = (behindDb: number): string => {
  const whole = Math.round(behindDb)
  return say.less({ amount: Math.abs(whole), more: whole > 0 })
}
/** How far a line is off: '4 dB too high', 'right'. */
const offWords = (offDb: number): string => {
  const whole = Math.round(offDb)
  return say.off({ amount: Math.abs(whole), high: whole > 0 })
}

/** What came out, and what a fair test finds. */
export function findingWords({ name, bass, treble }: Pick<FaultAnswer, 'name' | 'bass' | 'treble'>): string {
  const [measured, fair] = [
    ({ measuredDb }: RangeFound) => lessWords(measuredDb),
    ({ fairDb }: RangeFound) => lessWords(fairDb),
  ]
  return say.finding({
    letter: letterOf(name),
    bass: measured(bass),
    treble: measured(treble),
    fairBass: fair(bass),
    fairTreble: fair(treble),
  })
}

/** What is said of a choice: what in the recordings shows the mistake, or what the chosen one would look like. */
export function choiceWords(cause: FoolingTake, { name, evidence }: FaultAnswer, units: LengthUnit): string {
  if (cause !== name) return say.wrong({ sign: say.sign({ cause: practiceKey(cause) }) })
  return `${say.right({ cause: causeWords(cause) })} ${evidenceWords(evidence, units)}`
}

/** Whether the mistake can be told afterwards, and what to do the next time. */
export const lessonsOf = (cause: FoolingTake): { title: string; words: string }[] => [
  { title: say.tellTitle(), words: say.tell({ cause: practiceKey(cause) }) },
  { title: say.nextTitle(), words: say.nextTime({ cause: practiceKey(cause) }) },
]

/** What in the recordings shows the mistake. */
export function evidenceWords(evidence: FaultEvidence, units: LengthUnit): string {
  switch (evidence.fault) {
    case 'unmatched-microphones':
      return say.evidenceUnmatched({
        low: offWords(evidence.lowDb),
        lowHz: frequencyText(heardBands[0]?.nominalHz ?? 0),
        middle: offWords(evidence.middleDb),
        middleHz: frequencyText(1000),
        high: offWords(evidence.highDb),
        highHz: frequencyText(heardBands.at(-1)?.nominalHz ?? 0),
      })
    case 'unequal-distances':
      return say.evidenceDistances({
        front: offWords(evidence.frontDb),
        fits: tapeText(evidence.fitsM, units),
        entered: tapeText(practiceDistanceM, units),
      })
    case 'wall-behind-microphone': {
      const [lowest = 1, ...others] = evidence.dipsHz
      return say.evidenceWall({
        dips: listText(evidence.dipsHz.map(dipFrequencyText)),
        multiples: listText(others.map((frequencyHz) => String(Math.round(frequencyHz / lowest)))),
        extra: fineLengthText(evidence.extraM, units),
        wall: fineLengthText(evidence.wallM, units),
      })
    }
    case 'talking': {
      const spells = listText(
        evidence.spells.map(({ fromS, toS }) => say.spell({ from: seconds(fromS), to: seconds(toS) })),
      )
      return say.evidenceTalking({
        spells,
        louder: levelText(evidence.louderDb),
        band: frequencyText(evidence.nominalHz),
        counted: amount(evidence.countedDb),
        leftOut: levelText(Math.abs(evidence.leftOutDb)),
      })
    }
    case 'meter-smoothing':
      return say.evidenceMeter({
        from: frequencyText(evidence.fromHz),
        flat: amount(evidence.flatDb),
        fall: levelText(evidence.fallDb),
        after: seconds(evidence.readAfterS),
        band: frequencyText(evidence.nominalHz),
        recorded: amount(evidence.recordedDb),
      })
    case 'volume-changed':
      return say.evidenceVolume({
        behind: offWords((evidence.leastDb + evidence.mostDb) / 2),
        spread: `${shortText(Math.max(0.1, Math.ceil(10 * (evidence.mostDb - evidence.leastDb)) / 10), 1)} dB`,
      })
  }
}

/** The table twin: one row a band. */
export function bandRows({ measured, fair }: Pick<FaultAnswer, 'measured' | 'fair'>): string[][] {
  const number = (levelDb: number | null | undefined) =>
    typeof levelDb === 'number' ? decimalText(levelDb, 1) : say.none()
  return heardBands.map(({ nominalHz }, band) => [
    shortText(nominalHz, 1),
    number(measured.front[band]),
    number(fair.front[band]),
    number(measured.behind[band]),
    number(fair.behind[band]),
  ])
}
