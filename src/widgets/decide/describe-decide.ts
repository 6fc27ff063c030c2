import type { Plan } from '../../state/plan-schema.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { lengthText, tapeText } from '../../words/lengths.ts'
import { downWords, levelText, tenthsText } from '../../words/levels.ts'
import { shortText } from '../../words/numbers.ts'
import { tenthsDownWords, toTenth } from '../../words/tenths.ts'
import * as say from './decide.messages.ts'
import type { EveningAnswer } from './decide-evening.svelte.ts'
import type { EveningLevels } from './evening-levels.ts'
import {
  type EveningStep,
  eveningIds,
  eveningSteps,
  forwardM,
  inwardDeg,
  pairM,
  tableXM,
  upDb,
} from './evening-plans.ts'

// An evening that is decided in steps, in words.

export const stepName = (step: EveningStep): string => say.stepName({ step })

/** What is done in a step, and why there. */
export const stepWords = (step: EveningStep, plan: Plan, units: LengthUnit): string =>
  say.stepWords({
    step,
    table: lengthText(tableXM.usual - tableXM.moved, units),
    forward: tapeText(forwardM, units),
    spacing: tapeText(pairM, units),
    delay: shortText(plan.cabinets.find(({ inverted }) => inverted)?.delayMs ?? 0, 2),
    inward: inwardDeg,
    up: levelText(upDb),
  })

const bassAt = ({ places }: EveningLevels, id: string): number => places[id]?.bassDb ?? 0

/** What a step does at the table and on the floor. */
export function decideTitle(step: EveningStep, { now, before, usual }: EveningAnswer): string {
  const overDb = bassAt(usual, eveningIds.table) - bassAt(usual, eveningIds.floor)
  if (step === 'usual') return say.titleUsual({ over: levelText(overDb) })
  const changeAt = (id: string) => downWords(bassAt(now, id) - bassAt(before, id))
  return say.title({
    name: say.stepTitle({ step }),
    table: changeAt(eveningIds.table),
    floor: changeAt(eveningIds.floor),
  })
}

export const decideColumns = (step: EveningStep): string[] => [
  say.columnPlace(),
  say.columnBass(),
  ...(step === 'usual' ? [] : [say.columnStep(), say.columnAll()]),
]

/**
 * Bass at every place and what comes outside: the level, the change of this step, and of all up to it. To a tenth, and
 * changes from the levels that are read, so that the steps add up: in whole decibels the last one would change nothing.
 */
export function decideRows(step: EveningStep, { now, before, usual }: EveningAnswer, plan: Plan): string[][] {
  const row = (name: string, of: (levels: EveningLevels) => number, unit: string): string[] => [
    name,
    `${tenthsText(of(now))} ${unit}`,
    ...(step === 'usual' ? [] : [before, usual].map((then) => tenthsDownWords(toTenth(of(now)) - toTenth(of(then))))),
  ]
  return [
    ...plan.places.map(({ id, name }) => row(name, (levels) => bassAt(levels, id), 'dB')),
    row(plan.neighbour?.name ?? '', ({ outsideDbC }) => outsideDbC, 'dB(C)'),
  ]
}

/** What has come of all of it, after the last step. */
export const endWords = (step: EveningStep, { now, usual }: EveningAnswer): string =>
  step === eveningSteps.at(-1)
    ? say.end({
        table: downWords(bassAt(now, eveningIds.table) - bassAt(usual, eveningIds.table)),
        floor: downWords(bassAt(now, eveningIds.floor) - bassAt(usual, eveningIds.floor)),
        band: downWords(bassAt(now, eveningIds.band) - bassAt(usual, eveningIds.band)),
        outside: downWords(now.outsideDbC - usual.outsideDbC),
      })
    : ''
