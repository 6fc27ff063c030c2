import type { AnswerKind } from '../../engine/questions/check/check-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import {
  angleMeasure,
  delayMeasure,
  frequencyMeasure,
  levelMeasure,
  type Measure,
  oneNumber,
  tapeMeasure,
} from '../../words/measures.ts'
import { shortText } from '../../words/numbers.ts'
import * as say from './self-check.messages.ts'
import { answerText } from './value-words.ts'

type Own = {
  kind: Measure['kind']
  unit: string
  /** What may stand behind the number, and what it counts in the answer's unit. */
  units: Readonly<Record<string, number>>
  /** The unit of a bare number. */
  bare: number
}

/** A measure of the self-check alone: one number, perhaps with its unit. */
const own = (answer: AnswerKind, { kind, unit, units, bare }: Own): Measure => ({
  kind,
  unit,
  write: (value) => (Number.isFinite(value) ? shortText(value / bare, 4) : ''),
  read: (text) => oneNumber(text, units, bare),
  tell: (value) => answerText(answer, value, 'm'),
})

/** What an arrow key adds to an answer, in the unit that it is kept in. */
export const answerStep: Readonly<Record<AnswerKind, number>> = {
  length: 0.05,
  frequency: 1,
  level: 0.5,
  delay: 0.0001,
  decay: 0.1,
  angle: 1,
  times: 0.1,
  sones: 0.5,
  share: 0.01,
  hours: 0.25,
}

/** How the answer of a question is typed, in the unit that the answer is kept in. */
export function answerMeasure(kind: AnswerKind, units: LengthUnit): Measure {
  switch (kind) {
    case 'length':
      return tapeMeasure(units)
    case 'frequency':
      return frequencyMeasure
    case 'level':
      return levelMeasure()
    case 'delay':
      return delayMeasure()
    case 'angle':
      return angleMeasure
    case 'decay':
      return own(kind, { kind: 'time', unit: 's', units: { s: 1, sec: 1, second: 1, ms: 1e-3 }, bare: 1 })
    case 'times':
      return own(kind, { kind: 'number', unit: say.times(), units: { [say.times()]: 1, '×': 1, x: 1 }, bare: 1 })
    case 'sones':
      return own(kind, { kind: 'number', unit: say.sones(), units: { [say.sones()]: 1, sone: 1 }, bare: 1 })
    case 'share':
      return own(kind, { kind: 'number', unit: '%', units: { '%': 0.01 }, bare: 0.01 })
    case 'hours': {
      const known = { h: 1, hour: 1, hr: 1, min: 1 / 60, minute: 1 / 60, [say.hours()]: 1 }
      return own(kind, { kind: 'time', unit: say.hours(), units: known, bare: 1 })
    }
  }
}
