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
import { heardBands } from './heard.ts'
import { earHeightM, referenceDistanceM } from './scene-terms.ts'
import { solvedModel, solvedRevision } from './solved-gear.ts'

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

/** Mean level per band of heardBands over 100 Hz–10 kHz: the zero line of spectra. */
export function passbandDb(levels: Float64Array): number {
  const inside = heardBands.filter(({ nominalHz }) => nominalHz >= 100 && nominalHz <= 10000).length
  return groupLevelDb(levels, heardBands, 100, 10000) - 10 * Math.log10(inside)
}
