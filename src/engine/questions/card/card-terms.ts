import type { Rig } from '../../../acoustics/index.ts'
import type { InAir } from '../../scene/air.ts'

// The numbers of one rig for the card in the van.

export type CardQuestion = InAir & { rig: Rig }

/** One size of cabinet of the rig, and where it stops wrapping. */
export type CardBox = {
  /** Labels of the cabinets of this size. */
  labels: string[]
  widthM: number
  /**
   * Where the rear falls 6 dB under the front, Hz, from far away (wrapFrequencyHz), computed for the lowest way; or that this is not
   * between 31.5 Hz and 2 kHz.
   */
  wrapHz: number | 'below' | 'above'
  /** Whether that is solved for the real box; else a hard ball of equal surface has a say in it. */
  isSolved: boolean
  /** The rule ka = 1 with half the width for a, Hz. */
  kaIsOneHz: number
}

/** One plane of a horn's mouth: the angle on its label, and where the horn lets go of it. */
export type CardHorn = {
  plane: 'across' | 'upright'
  mouthM: number
  coverageDeg: number
  /** Below it the beam is wider than the label by more than a fifth, Hz; null for an angle that the site does not compute. */
  letsGoHz: number | null
  /** By the rule of thumb, Hz. */
  ruleHz: number
}

/** A row of equal drivers, one above the other. */
export type CardColumn = {
  count: number
  /** From one end of the row to the other with half a spacing more at each end, m. */
  lengthM: number
  /** Where it is one wave long, Hz: from there on it holds its sound in height. */
  oneWaveHz: number
  /** Where the spacing of its drivers is one wave, Hz: further beams begin below it. */
  furtherHz: number
}

/** Where the wall behind takes its first note, the back of the rig so far from it. */
export type CardDip = {
  gapM: number
  /** Computed, Hz; null where there is no dip of 1 dB or more. */
  dipHz: number | null
}

/** Two of the rig's lowest cabinet as a steered pair. */
export type CardPair = {
  label: string
  band: { fromHz: number; toHz: number }
  /** From front to front, m, and the delay of the rear one, s. */
  spacingM: number
  delayS: number
  /** The note of which the spacing is a quarter wave, Hz. */
  quarterHz: number
}

export type CardAnswer = {
  boxes: CardBox[]
  horns: CardHorn[]
  columns: CardColumn[]
  /** From the foremost face to the rearmost back, m. */
  depthM: number
  dips: CardDip[]
  /** Null for a rig without bass to steer. */
  pair: CardPair | null
}

/** Distances from the back of the rig to the wall, m: those of lesson 6 whose first dip is in its chart. */
export const cardGapsM = [0.05, 0.3, 0.6, 1.2, 2.5] as const
/** From the front face to who listens, m, as in lesson 6. */
export const cardFrontM = 4
/** Between these frequencies it is looked for where a box stops wrapping, Hz: the bands of the own box. */
export const cardWrapRangeHz = { from: 31.5, to: 2000 } as const
