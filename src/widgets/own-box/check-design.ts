import { checkRig, netFlowShare } from '../../acoustics/index.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import {
  angleMeasure,
  delayMeasure,
  frequencyMeasure,
  levelMeasure,
  sizeMeasure,
  typedProblem,
} from '../../words/measures.ts'
import { sizeTextDown, sizeTextUp } from '../../words/sizes.ts'
import {
  acousticDriver,
  type BoxDesign,
  type BoxDriver,
  boxRanges,
  halfSizeM,
  mostDrivers,
  rigOfDesign,
} from './box-design.ts'
import * as say from './box-form.messages.ts'
import { overlap, placedDrivers, slackM } from './place-drivers.ts'

/** Errors in the reader's words, each under the name of the field that it stands beside. */
export type DesignErrors = Partial<Record<string, string>>

/** Name of a driver's field among the errors. */
export const driverField = (index: number, field: keyof BoxDriver): string => `drivers.${index}.${field}`

/**
 * What is wrong with a box, beside each field that has to change; empty for a sound one. Sizes that are no numbers are
 * given as NaN.
 */
export function checkDesign(design: BoxDesign, units: LengthUnit): DesignErrors {
  const errors: DesignErrors = {}
  const size = (valueM: number, range: { min: number; max: number }) => typedProblem(valueM, sizeMeasure(units), range)
  const note = (field: string, error: string | undefined) => {
    if (error && !errors[field]) errors[field] = error
  }
  note('widthM', size(design.widthM, boxRanges.outerM))
  note('heightM', size(design.heightM, boxRanges.outerM))
  note('depthM', size(design.depthM, boxRanges.outerM))
  if (design.twoWay) note('crossoverHz', crossoverError(design))
  if (design.drivers.length < 1 || design.drivers.length > mostDrivers) {
    note('drivers', say.driverCount({ count: design.drivers.length, most: mostDrivers }))
  }
  design.drivers.forEach((driver, index) => {
    const at = (field: keyof BoxDriver) => driverField(index, field)
    if (driver.kind === 'cone') note(at('diameterM'), size(driver.diameterM, boxRanges.diameterM))
    else {
      note(at('mouthWidthM'), size(driver.mouthWidthM, boxRanges.mouthM))
      note(at('mouthHeightM'), size(driver.mouthHeightM, boxRanges.mouthM))
      for (const field of ['horizontalDeg', 'verticalDeg'] as const) {
        note(at(field), typedProblem(driver[field], angleMeasure, boxRanges.coverageDeg))
      }
    }
    note(at('levelDb'), typedProblem(driver.levelDb, levelMeasure(), boxRanges.levelDb))
    note(at('delayMs'), typedProblem(driver.delayMs, delayMeasure(1), boxRanges.delayMs))
    for (const field of ['xM', 'yM'] as const) {
      note(at(field), typedProblem(driver[field], sizeMeasure(units), boxRanges.placeM))
    }
  })
  if (Object.keys(errors).length > 0) return errors

  const { drivers, needs } = placedDrivers(design)
  if (needs)
    note('drivers', say.noRoom({ width: sizeTextUp(needs.widthM, units), height: sizeTextUp(needs.heightM, units) }))
  for (const plays of design.twoWay ? (['low', 'high'] as const) : ([undefined] as const)) {
    const last = cancellingDriver(design.drivers, plays)
    if (last === undefined) continue
    note(driverField(last, 'inverted'), say.cancels({ part: plays ?? 'all' }))
  }
  if (Object.keys(errors).length === 0) {
    // The module's own check has the last word: nothing that it refuses may be asked of the engine.
    try {
      checkRig(rigOfDesign('own box', { ...design, drivers }))
    } catch (error) {
      note('drivers', error instanceof Error ? error.message : String(error))
    }
  }
  return errors
}

/** Drivers whose flows leave less than this share cancel: 20 dB is lost straight in front. */
const cancelledShare = 0.1

/** The last inverted driver of a part whose drivers cancel straight in front; undefined if they do not. */
function cancellingDriver(drivers: BoxDriver[], plays: BoxDriver['plays'] | undefined): number | undefined {
  const isPart = (driver: BoxDriver) => plays === undefined || driver.plays === plays
  if (netFlowShare(drivers.filter(isPart).map(acousticDriver)) >= cancelledShare) return undefined
  return drivers.findLastIndex((driver) => driver.inverted && isPart(driver))
}

function crossoverError({ crossoverHz, drivers }: BoxDesign): string | undefined {
  const range = typedProblem(crossoverHz, frequencyMeasure, boxRanges.crossoverHz)
  if (range) return range
  const part = (['low', 'high'] as const).find((one) => !drivers.some(({ plays }) => plays === one))
  return part && say.nonePlays({ part })
}

/** How far a driver may be from the middle along one axis, if its place leaves the face there. */
export function faceError(
  axis: 'across' | 'along',
  placeM: number,
  halfM: number,
  faceM: number,
  units: LengthUnit,
): string | undefined {
  const limitM = Math.max(0, faceM / 2 - halfM)
  if (Math.abs(placeM) <= limitM + slackM) return undefined
  const [low, high] = axis === 'across' ? (['left', 'right'] as const) : (['bottom', 'top'] as const)
  const edge = placeM > 0 ? high : low
  return limitM < slackM ? say.fillsFace({ edge }) : say.pastEdge({ edge, limit: sizeTextDown(limitM, units) })
}

/**
 * Why a driver cannot be at a place that was typed, with where it may be; undefined if it can.
 *
 * @param drivers  where they stand now
 */
export function placeProblem(
  { widthM, heightM, drivers }: Pick<BoxDesign, 'widthM' | 'heightM' | 'drivers'>,
  index: number,
  place: { xM: number; yM: number },
  units: LengthUnit,
): string | undefined {
  const driver = { ...(drivers[index] as BoxDriver), ...place }
  const { wideM, highM } = halfSizeM(driver)
  const past =
    faceError('across', driver.xM, wideM, widthM, units) ?? faceError('along', driver.yM, highM, heightM, units)
  if (past) return past
  const covered = drivers.findIndex((other, at) => at !== index && overlap(driver, other))
  return covered < 0 ? undefined : say.overlaps({ number: index + 1, other: covered + 1 })
}
