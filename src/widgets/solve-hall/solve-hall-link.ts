import { type LessonHallKey, lessonHallKeys } from '../../engine/questions/plan/lesson-halls.ts'
import { wordField } from '../../state/link-fields.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import { unitsField } from '../figure/units-field.ts'

/** Which hall is looked at. What the reader has moved is not in a link. */
export type SolveHallState = { hall: LessonHallKey; units: LengthUnit | 'own' }

/** The link of the halls to solve, version 1. */
export const solveHallLink: LinkSchema<SolveHallState> = {
  name: 'solve-hall',
  version: 1,
  fields: {
    /** The hall that is looked at. */
    hall: { read: wordField(lessonHallKeys), default: 'barn' },
    units: unitsField,
  },
}
