import type { LengthUnit } from '../../state/preferences.ts'
import { fineFrequencyText } from '../../words/frequencies.ts'
import { sizeText } from '../../words/sizes.ts'
import type { BoxDesign } from './box-design.ts'
import * as say from './box-port.messages.ts'
import { type BoxPort, portRanges } from './box-port.ts'
import { checkDesign, type DesignErrors, faceError, noSize, rangeError } from './check-design.ts'

/** Name of a port's field among the errors. */
export const portField = (field: keyof BoxPort): string => `port.${field}`

/** What is wrong with a box and the port in its back, beside each field that has to change; see checkDesign. */
export function checkBox({ port, ...box }: BoxDesign, units: LengthUnit): DesignErrors {
  const errors = checkDesign(box, units)
  if (!port) return errors
  const note = (field: keyof BoxPort, error: string | undefined) => {
    if (error) errors[portField(field)] ??= error
  }
  const { diameterM, tuningHz } = portRanges
  note(
    'diameterM',
    rangeError('length', port.diameterM, diameterM.min, diameterM.max, (valueM) => sizeText(valueM, units)),
  )
  note('tuningHz', rangeError('frequency', port.tuningHz, tuningHz.min, tuningHz.max, fineFrequencyText))
  for (const field of ['xM', 'yM'] as const) {
    if (!Number.isFinite(port[field])) note(field, noSize(units))
  }
  if (Object.keys(errors).length > 0) return errors
  const across = faceError('across', port.xM, port.diameterM / 2, box.widthM, units)
  const along = faceError('along', port.yM, port.diameterM / 2, box.heightM, units)
  if (across) note(across.tooLarge ? 'diameterM' : 'xM', across.words)
  if (along) note(along.tooLarge ? 'diameterM' : 'yM', along.words)
  const breathes = box.drivers.some(({ kind, plays }) => kind === 'cone' && (!box.twoWay || plays === 'low'))
  if (!breathes) note('tuningHz', say.noCone({ twoWay: box.twoWay }))
  return errors
}
