import {
  type Air,
  aWeightingDb,
  bandLevelsDb,
  groupLevelDb,
  type Point,
  type Rig,
  type RigField,
  rigField,
  weightedLevelDb,
} from '../../acoustics/index.ts'
import { requireInRange } from '../../acoustics/numeric-range.ts'
import { earHeightM, loudestDbA, quietestDbA, referenceDistanceM, usualDbA } from './scene-terms.ts'
import { solvedModel, solvedRevision } from './solved-gear.ts'
import { bandsBetween, heardBands, passbandHz } from './third-octaves.ts'

/** Where a rig is set flat: straight in front in free air, at ear height, as a crew does. Walls and halls change nothing about that. */
export const voicedAt: Point = { xM: 0, yM: earHeightM, zM: referenceDistanceM }

const fields = new Map<string, RigField>()

/** The prepared field of a rig in free air, kept for the few rigs in use. Throws RangeError for a rig that is not sound. */
export function freeField(rig: Rig, air: Air): RigField {
  // With the solved cabinets at hand a rig's field is another one.
  const key = `${solvedRevision()} ${JSON.stringify([rig, air])}`
  let field = fields.get(key)
  if (!field) {
    if (fields.size >= 4) fields.clear()
    field = rigField(rig, air, solvedModel, voicedAt)
    fields.set(key, field)
  }
  return field
}

/** A-weighted level of pink noise where a rig is set flat, in the units of its transfer function. */
export const aWeightedAtReferenceDb = (free: RigField): number =>
  weightedLevelDb(
    bandLevelsDb((frequencyHz) => free.transferAt(voicedAt, frequencyHz), heardBands),
    heardBands,
    aWeightingDb,
  )

/**
 * What lifts the levels of a rig to dB re 20 µPa.
 *
 * @param referenceDbA  how loud pink noise is where the rig is set flat, dB(A), quietestDbA … loudestDbA
 * @throws RangeError   for another level
 */
export function liftDb(free: RigField, referenceDbA = usualDbA): number {
  requireInRange('referenceDbA', referenceDbA, { min: quietestDbA, max: loudestDbA, unit: 'dB(A)' })
  return referenceDbA - aWeightedAtReferenceDb(free)
}

const passbandCount = bandsBetween(passbandHz.from, passbandHz.to).length

/** Mean level per band over the passband: the zero line of all levels. Levels are those of heardBands. */
export const passbandDb = (levels: Float64Array): number =>
  groupLevelDb(levels, heardBands, passbandHz.from, passbandHz.to) - 10 * Math.log10(passbandCount)
