import { type AuditionSignal, auditionSignals } from '../../sound/audition-types.ts'
import { check, checked, numberField, wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { rigField } from '../rig-choice/rig-choice.ts'
import { notWhole } from './blind-comparison.messages.ts'

/** What a link to the blind comparison keeps. Answers are not in it, and neither is the volume: sound always starts quiet. */
export type BlindState = {
  rig: string
  angleDeg: number
  distanceM: number
  signal: AuditionSignal
  trials: number
  /** Whether each trial is told after it is answered. */
  feedback: 'on' | 'off'
  /** 0: drawn by chance at every visit. */
  seed: number
  units: LengthUnit | 'own'
}

/** Ranges of the settings, in the units of their controls. */
export const blindRange = {
  angleDeg: { min: 90, max: 180, step: 5 },
  distanceM: { min: 1, max: 4, step: 0.25 },
  trials: { min: 5, max: 20, step: 1 },
} as const

const { angleDeg, distanceM, trials } = blindRange

const wholeField = (min: number, max: number, unit: string) =>
  checked(
    numberField(min, max, unit),
    check((value) => Number.isInteger(value), notWhole()),
  )

/** The link of the blind comparison, version 1, for the rigs that the page has. */
export const blindLink = (rigKeys: readonly string[]): LinkSchema<BlindState> => ({
  name: 'blind',
  version: 1,
  fields: {
    rig: rigField(rigKeys),
    /** Direction of the place from the front face: 90 beside, 180 behind. */
    angleDeg: {
      read: numberField(angleDeg.min, angleDeg.max, 'degrees'),
      default: 180,
    },
    /** Distance of both places from the middle of the front face, in plan. */
    distanceM: {
      read: numberField(distanceM.min, distanceM.max, 'm'),
      default: 2.5,
    },
    /** What is played. */
    signal: { read: wordField(auditionSignals), default: 'pink-noise' },
    /** Trials of a stage. */
    trials: { read: wholeField(trials.min, trials.max, 'trials'), default: 8 },
    /** Whether each trial is told after its answer. */
    feedback: {
      read: wordField(['on', 'off']),
      default: 'on',
    },
    /** What the order of the trials is drawn from, for checking the figure; 0: by chance at every visit. */
    seed: {
      read: wholeField(0, 2 ** 32 - 1, ''),
      default: 0,
    },
    units: unitsField,
  },
})
