import { checkRig, netFlowShare } from '../../acoustics/index.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { angleMeasure, delayMeasure, frequencyMeasure, levelMeasure, sizeMeasure, typedProblem } from '../../words/measures.ts'
import { sizeText, sizeTextDown } from '../../words/sizes.ts'
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

/** Errors in the reader's words, each under the name of the field that it stands beside. */
export type DesignErrors = Partial<Record<string, string>>

/** Name of a driver's field among the errors. */
export const driverField = (index: number, field: keyof BoxDriver): string => `drivers.${index}.${field}`

/** Slack for drivers that touch each other or the edge, m: far below any drawing's accuracy. */
const slackM = 1e-6

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

  design.drivers.forEach((driver, index) => {
    const { wideM, highM } = halfSizeM(driver)
    const across = faceError('across', driver.xM, wideM, design.widthM, units)
    const along = faceError('along', driver.yM, highM, design.heightM, units)
    const sizeField = (wide: boolean) =>
      driver.kind === 'cone' ? 'diameterM' : wide ? ('mouthWidthM' as const) : ('mouthHeightM' as const)
    if (across) note(driverField(index, across.tooLarge ? sizeField(true) : 'xM'), across.words)
    if (along) note(driverField(index, along.tooLarge ? sizeField(false) : 'yM'), along.words)
    const covered = design.drivers.slice(0, index).findIndex((other) => overlap(driver, other))
    if (covered >= 0 && !across && !along) {
      note(driverField(index, 'yM'), say.overlaps({ number: index + 1, other: covered + 1 }))
    }
  })
  for (const plays of design.twoWay ? (['low', 'high'] as const) : ([undefined] as const)) {
    const last = cancellingDriver(design.drivers, plays)
    if (last === undefined) continue
    note(driverField(last, 'inverted'), say.cancels({ part: plays ?? 'all' }))
  }
  if (Object.keys(errors).length === 0) {
    // The module's own check has the last word: nothing that it refuses may be asked of the engine.
    try {
      checkRig(rigOfDesign('own box', design))
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

/** Whether a driver leaves the face along one axis: it is larger than the face, or its middle is too far out. */
function faceError(
  axis: 'across' | 'along',
  placeM: number,
  halfM: number,
  faceM: number,
  units: LengthUnit,
): { words: string; tooLarge: boolean } | undefined {
  const limitM = faceM / 2 - halfM
  if (limitM < -slackM) {
    const sizes = { size: sizeText(2 * halfM, units), most: sizeTextDown(faceM, units) }
    return { tooLarge: true, words: axis === 'across' ? say.tooWide(sizes) : say.tooHigh(sizes) }
  }
  if (Math.abs(placeM) <= limitM + slackM) return undefined
  const [low, high] = axis === 'across' ? (['left', 'right'] as const) : (['bottom', 'top'] as const)
  const edge = placeM > 0 ? high : low
  const limit = sizeTextDown(Math.max(0, limitM), units)
  return { tooLarge: false, words: limitM < slackM ? say.fillsFace({ edge }) : say.pastEdge({ edge, limit }) }
}

/** Whether two drivers cover the same part of the face. */
function overlap(a: BoxDriver, b: BoxDriver): boolean {
  const [dx, dy] = [Math.abs(a.xM - b.xM), Math.abs(a.yM - b.yM)]
  const [halfA, halfB] = [halfSizeM(a), halfSizeM(b)]
  if (a.kind === 'cone' && b.kind === 'cone') return Math.hypot(dx, dy) < halfA.wideM + halfB.wideM - slackM
  if (a.kind === 'horn' && b.kind === 'horn') {
    return dx < halfA.wideM + halfB.wideM - slackM && dy < halfA.highM + halfB.highM - slackM
  }
  const [cone, mouth] = a.kind === 'cone' ? [halfA, halfB] : [halfB, halfA]
  const gapM = Math.hypot(Math.max(0, dx - mouth.wideM), Math.max(0, dy - mouth.highM))
  return gapM < cone.wideM - slackM
}
