import type { AnswerKind, ComputedQuestion, Tolerance, Values } from '../../engine/questions/check/check-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { aboutFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { inUnit, tapeText } from '../../words/lengths.ts'
import { held, roundText, shortText } from '../../words/numbers.ts'
import * as say from './self-check.messages.ts'

type Text = (value: number, units: LengthUnit) => string

const inch = 0.0254

/** A length of a question or an answer: '8.6 cm', '2.35 m'; '3.4 in', '7 ft 8.5 in'. */
export function checkLengthText(lengthM: number, units: LengthUnit): string {
  if (lengthM >= 0.9995) return units === 'ft' ? tapeText(lengthM, units) : `${shortText(lengthM, 2)} m`
  return units === 'ft' ? `${shortText(lengthM / inch, 1)} in` : `${shortText(100 * lengthM, 1)} cm`
}

const areaText: Text = (areaM2, units) =>
  units === 'ft' ? `${Math.round(inUnit(inUnit(areaM2, 'ft'), 'ft'))} ft²` : `${Math.round(areaM2)} m²`

const volumeText: Text = (volumeM3, units) =>
  units === 'ft'
    ? `${Math.round(inUnit(inUnit(inUnit(volumeM3, 'ft'), 'ft'), 'ft'))} ft³`
    : `${Math.round(volumeM3)} m³`

/** The speed of sound as the page says it: '343.2 m/s', '1126 ft/s'. */
export const speedText = (speedMps: number, units: LengthUnit): string =>
  units === 'ft' ? `${Math.round(inUnit(speedMps, 'ft'))} ft/s` : `${shortText(speedMps, 1)} m/s`

const shareText = (share: number): string => `${roundText(100 * share, share < 0.1 ? 2 : 3)} %`

/** How a number is written, by the unit at the end of its name; the longer ending first. */
const byEnding: readonly (readonly [ending: string, text: Text])[] = [
  ['DbA', (value) => `${shortText(value, 1)} dB(A)`],
  ['Db', (value) => `${shortText(value, 1)} dB`],
  ['Deg', (value) => `${shortText(value, 0)}°`],
  ['Hz', frequencyText],
  ['M2', areaText],
  ['M3', volumeText],
  ['Mps', speedText],
  ['Share', (value) => `${roundText(100 * value, 2)} %`],
  ['Sones', (value) => shortText(value, 1)],
  ['Times', (value) => roundText(value, 3)],
  ['M', checkLengthText],
  ['S', (value) => `${shortText(value, 1)} s`],
]

function textOf(name: string, value: number, units: LengthUnit): string {
  const found = byEnding.find(([ending]) => name.endsWith(ending))
  if (!found)
    throw new RangeError(`${name} has no unit; allowed is an ending of ${byEnding.map(([end]) => end).join(' ')}`)
  return held(found[1](value, units))
}

/** The numbers of a question as words, by name. */
export const textsOf = (values: Values, units: LengthUnit): Record<string, string> =>
  Object.fromEntries(Object.entries(values).map(([name, value]) => [name, textOf(name, value, units)]))

const byKind: Record<AnswerKind, Text> = {
  length: checkLengthText,
  frequency: (value) => aboutFrequencyText(value, 3),
  level: (value) => `${shortText(value, 1)} dB`,
  delay: (value) => `${shortText(1000 * value, 2)} ms`,
  decay: (value) => `${shortText(value, 2)} s`,
  angle: (value) => `${shortText(value, 0)}°`,
  times: (value) => say.timesAmount({ number: roundText(value, 3) }),
  sones: (value) => say.sonesAmount({ number: roundText(value, 3) }),
  share: shareText,
  hours: (value) =>
    value < 1
      ? say.minutesAmount({ number: Number((60 * value).toPrecision(2)) })
      : say.hoursAmount({ number: Number(value.toPrecision(2)) }),
}

/** An answer, right or given, with its unit. */
export const answerText = (kind: AnswerKind, answer: number, units: LengthUnit): string =>
  held(byKind[kind](answer, units))

/** How far off an answer may be: '5 %', '0.5 dB'. */
export const toleranceText = (kind: AnswerKind, tolerance: Tolerance, units: LengthUnit): string =>
  'part' in tolerance ? held(shareText(tolerance.part)) : answerText(kind, tolerance.amount, units)

/** All that a worked solution tells. */
export const workedTexts = (
  question: ComputedQuestion,
  values: Values,
  air: Parameters<ComputedQuestion['solve']>[1],
  units: LengthUnit,
): Record<string, string> & { answer: string } => ({
  ...textsOf({ ...values, ...question.worked(values, air) }, units),
  answer: answerText(question.answer, question.solve(values, air), units),
})
