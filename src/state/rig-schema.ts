import * as v from 'valibot'
import { checkRig } from '../acoustics/index.ts'

// What a rig has to be, whoever wrote it: a file of content/gear, a reader's device, or a file from another device.

const number = v.pipe(v.number(), v.finite())
const slope = v.strictObject({
  alignment: v.picklist(['linkwitz-riley', 'butterworth']),
  order: number,
  frequencyHz: number,
})
const driverPlace = {
  xM: number,
  yM: number,
  gain: v.exactOptional(number),
  delayS: v.exactOptional(number),
}
const driver = v.variant('kind', [
  v.strictObject({ kind: v.literal('piston'), radiusM: number, ...driverPlace }),
  v.strictObject({
    kind: v.literal('horn'),
    mouthWidthM: number,
    mouthHeightM: number,
    horizontalCoverageRad: number,
    verticalCoverageRad: number,
    ...driverPlace,
  }),
])
/** A round hole in the back of the cabinet, through which the cones of a way breathe. */
const port = v.strictObject({
  diameterM: number,
  xM: v.exactOptional(number),
  yM: v.exactOptional(number),
  tuningHz: number,
})
const label = v.pipe(v.string(), v.maxLength(200))
/** A cabinet without its place. */
export const boxEntries = {
  name: label,
  label: v.exactOptional(label),
  widthM: number,
  heightM: number,
  depthM: number,
  ways: v.array(
    v.strictObject({
      name: label,
      label: v.exactOptional(label),
      drivers: v.array(driver),
      highPass: v.exactOptional(slope),
      lowPass: v.exactOptional(slope),
      port: v.exactOptional(port),
    }),
  ),
}
const rigEntries = {
  name: label,
  cabinets: v.array(
    v.strictObject({
      ...boxEntries,
      frontCentre: v.strictObject({ xM: number, yM: number, zM: number }),
      yawRad: v.exactOptional(number),
    }),
  ),
}

type Rig = v.InferOutput<v.StrictObjectSchema<typeof rigEntries, undefined>>

/** Whether the numbers make a rig that can be built, in the words of the acoustics module. */
const buildable = <R extends Rig>() =>
  v.rawCheck<R>(({ dataset, addIssue }) => {
    if (!dataset.typed) return
    try {
      checkRig(dataset.value)
    } catch (error) {
      addIssue({ message: error instanceof Error ? error.message : String(error) })
    }
  })

/** A rig alone, as a device keeps it. */
export const rigSchema = v.pipe(v.strictObject(rigEntries), buildable())

/** A file of content/gear: a rig and what a page says of it. `order` is its place in the choice, from 1. */
export const demoRigSchema = v.pipe(
  v.strictObject({
    ...rigEntries,
    title: label,
    short: label,
    description: v.string(),
    order: v.pipe(v.number(), v.integer(), v.minValue(1)),
  }),
  buildable(),
)
