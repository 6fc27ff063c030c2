import { wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'
import { type ListenState, listenFields } from '../listen/listen-fields.ts'
import { type EveningStep, eveningSteps } from './evening-plans.ts'

/** Where the sound of the evening is heard. */
export const heardAt = ['table', 'floor'] as const

export type DecideState = ListenState & {
  step: EveningStep
  at: (typeof heardAt)[number]
  units: LengthUnit | 'own'
}

/** The link of the evening that is decided, version 1. */
export const decideLink: LinkSchema<DecideState> = {
  name: 'decide',
  version: 1,
  fields: {
    /** What has been decided so far. */
    step: { read: wordField(eveningSteps), default: 'usual' },
    /** Where it is heard. */
    at: { read: wordField(heardAt), default: 'table' },
    ...listenFields('music'),
    units: unitsField,
  },
}
