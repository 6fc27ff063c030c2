import type { LengthUnit } from '../../state/preferences.ts'
import { frequencyMeasure, sizeMeasure, typedProblem } from '../../words/measures.ts'
import { type BoxDesign, boxRanges } from './box-design.ts'
import * as say from './box-port.messages.ts'
import { type BoxPort, portRanges } from './box-port.ts'
import { checkDesign, type DesignErrors, faceError } from './check-design.ts'

/** Name of a port's field among the errors. */
export const portField = (field: keyof BoxPort): string => `port.${field}`

/** What is wrong with a box and the port in its back, beside each field that has to change; see checkDesign. */
export function checkBox({ port, ...box }: BoxDesign, units: LengthUnit): DesignErrors {
  const errors = checkDesign(box, units)
  if (!port) return errors
  const note = (field: keyof BoxPort, error: string | undefined) => {
    if (error) errors[portField(field)] ??= error
  }
  const size = sizeMeasure(units)
  note('diameterM', typedProblem(port.diameterM, size, portRanges.diameterM))
  note('tuningHz', typedProblem(port.tuningHz, frequencyMeasure, portRanges.tuningHz))
  for (const field of ['xM', 'yM'] as const) note(field, typedProblem(port[field], size, boxRanges.placeM))
  if (Object.keys(errors).length > 0) return errors
  const widest = { min: portRanges.diameterM.min, max: Math.min(box.widthM, box.heightM) }
  note('diameterM', typedProblem(port.diameterM, size, widest))
  if (Object.keys(errors).length > 0) return errors
  note('xM', faceError('across', port.xM, port.diameterM / 2, box.widthM, units))
  note('yM', faceError('along', port.yM, port.diameterM / 2, box.heightM, units))
  const breathes = box.drivers.some(({ kind, plays }) => kind === 'cone' && (!box.twoWay || plays === 'low'))
  if (!breathes) note('tuningHz', say.noCone({ twoWay: box.twoWay }))
  return errors
}
