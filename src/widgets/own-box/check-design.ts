import { checkRig, netFlowShare } from '../../acoustics/index.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { frequencyText } from '../../words/frequencies.ts'
import { shortText } from '../../words/numbers.ts'
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
  const size = (valueM: number, { min, max }: { min: number; max: number }) =>
    sizeError(valueM, min, max, (valueOfM) => sizeText(valueOfM, units))
  const note = (field: string, error: string | undefined) => {
    if (error && !errors[field]) errors[field] = error
  }
  note('widthM', size(design.widthM, boxRanges.outerM))
  note('heightM', size(design.heightM, boxRanges.outerM))
  note('depthM', size(design.depthM, boxRanges.outerM))
  if (design.twoWay) note('crossoverHz', crossoverError(design))
  if (design.drivers.length < 1 || design.drivers.length > mostDrivers) {
    note('drivers', `There are ${design.drivers.length} drivers. Allowed: 1 to ${mostDrivers}.`)
  }
  design.drivers.forEach((driver, index) => {
    const at = (field: keyof BoxDriver) => driverField(index, field)
    if (driver.kind === 'cone') note(at('diameterM'), size(driver.diameterM, boxRanges.diameterM))
    else {
      note(at('mouthWidthM'), size(driver.mouthWidthM, boxRanges.mouthM))
      note(at('mouthHeightM'), size(driver.mouthHeightM, boxRanges.mouthM))
      for (const field of ['horizontalDeg', 'verticalDeg'] as const) {
        const { min, max } = boxRanges.coverageDeg
        note(
          at(field),
          sizeError(driver[field], min, max, (value) => `${value}°`, 'an angle'),
        )
      }
    }
    note(
      at('levelDb'),
      sizeError(
        driver.levelDb,
        boxRanges.levelDb.min,
        boxRanges.levelDb.max,
        (value) => `${shortText(value, 3)} dB`,
        'a level',
      ),
    )
    note(
      at('delayMs'),
      sizeError(driver.delayMs, boxRanges.delayMs.min, boxRanges.delayMs.max, (value) => `${value} ms`, 'a time'),
    )
    for (const field of ['xM', 'yM'] as const) {
      if (!Number.isFinite(driver[field])) note(at(field), noSize(units))
    }
  })
  if (Object.keys(errors).length > 0) return errors

  design.drivers.forEach((driver, index) => {
    const { wideM, highM } = halfSizeM(driver)
    const across = faceError(
      driver.xM,
      wideM,
      design.widthM,
      { size: 'wide', low: 'left', high: 'right', face: 'width' },
      units,
    )
    const along = faceError(
      driver.yM,
      highM,
      design.heightM,
      { size: 'high', low: 'bottom', high: 'top', face: 'height' },
      units,
    )
    const sizeField = (wide: boolean) =>
      driver.kind === 'cone' ? 'diameterM' : wide ? ('mouthWidthM' as const) : ('mouthHeightM' as const)
    if (across) note(driverField(index, across.tooLarge ? sizeField(true) : 'xM'), across.words)
    if (along) note(driverField(index, along.tooLarge ? sizeField(false) : 'yM'), along.words)
    const covered = design.drivers.slice(0, index).findIndex((other) => overlap(driver, other))
    if (covered >= 0 && !across && !along) {
      note(
        driverField(index, 'yM'),
        `Driver ${index + 1} overlaps driver ${covered + 1}. Move one of them, or make it smaller. One driver inside another is not possible here.`,
      )
    }
  })
  for (const plays of design.twoWay ? (['low', 'high'] as const) : ([undefined] as const)) {
    const last = cancellingDriver(design.drivers, plays)
    if (last === undefined) continue
    note(
      driverField(last, 'inverted'),
      `With this polarity the drivers ${plays ? `${plays === 'low' ? 'below' : 'above'} the crossover ` : ''}cancel each other straight in front, and there is no front to compare with. Change a polarity, a level or a size.`,
    )
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

const noSize = (units: LengthUnit) =>
  units === 'ft'
    ? 'Not a length that this page can read. Write inches (12.5) or add the unit: 1 ft 10 in, 32 cm.'
    : 'Not a length that this page can read. Write metres (0.32) or add the unit: 32 cm, 12.5 in.'

function sizeError(
  value: number,
  min: number,
  max: number,
  text: (value: number) => string,
  noun = 'a length',
): string | undefined {
  const allowed = `Allowed: ${text(min)} to ${text(max)}.`
  if (!Number.isFinite(value)) return `Not ${noun} that this page can read. ${allowed}`
  if (value < 0 && min >= 0) return `Below zero. ${allowed}`
  if (value === 0 && min > 0) return `Zero. ${allowed}`
  if (value < min) return `Too small. ${allowed}`
  if (value > max) return `Too large. ${allowed}`
  return undefined
}

function crossoverError({ crossoverHz, drivers }: BoxDesign): string | undefined {
  const { min, max } = boxRanges.crossoverHz
  const range = sizeError(crossoverHz, min, max, frequencyText, 'a frequency')
  if (range) return range
  for (const [plays, words] of [
    ['low', 'below'],
    ['high', 'above'],
  ] as const) {
    if (!drivers.some((driver) => driver.plays === plays)) {
      return `No driver plays ${words} the crossover. Set one to “${words}”, or choose “all drivers play everything”.`
    }
  }
  return undefined
}

/** Whether a driver leaves the face along one axis: it is larger than the face, or its middle is too far out. */
function faceError(
  placeM: number,
  halfM: number,
  faceM: number,
  words: { size: string; low: string; high: string; face: string },
  units: LengthUnit,
): { words: string; tooLarge: boolean } | undefined {
  const limitM = faceM / 2 - halfM
  if (limitM < -slackM) {
    return {
      tooLarge: true,
      words: `${sizeText(2 * halfM, units)} ${words.size} is more than the box’s ${words.face}. Allowed: up to ${sizeTextDown(faceM, units)}.`,
    }
  }
  if (Math.abs(placeM) <= limitM + slackM) return undefined
  const limit = sizeTextDown(Math.max(0, limitM), units)
  const edge = placeM > 0 ? words.high : words.low
  return {
    tooLarge: false,
    words:
      limitM < slackM
        ? `Past the ${edge} edge: it fills the face, so only 0 is allowed.`
        : `Past the ${edge} edge. Allowed: −${limit} to ${limit}.`,
  }
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
