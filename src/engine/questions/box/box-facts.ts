import type { Cabinet } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { cabinetShadowHz, faceToFace } from './box-and-wave.ts'
import { type BoxPattern, boxLevels, rearDownHz, shadowBegin, shadowDropDb } from './box-pattern.ts'

/** A number that the words about boxes and waves need. 'octaves' and 'times' are bare; drops are positive when the rear is quieter. */
export type BoxFact = { value: number; unit: 'Hz' | 'dB' | 'm' | 'octaves' | 'times' | 'Hz·m' }

/** The box of the guess and of the figure's first state, m wide. */
export const guessedWidthM = 0.5

/** The bass that the words measure with two microphones, and how far each is from its face. */
export const twoMicrophones = { frequencyHz: 63, distanceM: 2 } as const

/** How far the rear falls over the change that the words call gradual, dB. */
const gradualDb = { from: 1, to: 10 } as const

export type BoxFactName =
  | 'guessed-width'
  | 'shadow'
  | 'width-rule'
  | 'ka-rule'
  | 'width-rule-octaves-high'
  | 'ka-rule-octaves-low'
  | 'drop-at-width-rule'
  | 'drop-at-ka-rule'
  | 'shadow-wavelengths'
  | 'drop-two-octaves-below'
  | 'gradual-from'
  | 'gradual-to'
  | 'gradual-octaves'
  | 'number'
  | 'front-gain-high'
  | 'wavelength-60'
  | 'wavelength-2k'
  | 'top-width'
  | 'top-shadow'
  | 'sub-width'
  | 'sub-depth'
  | 'sub-shadow'
  | 'microphone-distance'
  | 'microphones-total'
  | 'microphones-path'
  | 'microphones-round'
  | 'microphones-steered'

/**
 * The numbers of the prose, from the same functions as the figures. Shadow: rear 6 dB under front, far away (ours).
 * Numbers without "top" or "sub" are for a box 0.5 m wide with the top's proportions.
 *
 * @param pattern  of the figure's box
 * @param top  a cabinet with the pattern's proportions
 * @param sub  a cabinet with a cone, for the two microphones
 * @throws RangeError for a cabinet without a cone or out of range
 */
export function boxFacts(pattern: BoxPattern, top: Cabinet, sub: Cabinet): Record<BoxFactName, BoxFact> {
  const { computedHz, widthRuleHz, kaRuleHz } = shadowBegin(pattern, guessedWidthM, usualAir)
  const fromHz = rearDownHz(pattern, guessedWidthM, gradualDb.from, usualAir)
  const toHz = rearDownHz(pattern, guessedWidthM, gradualDb.to, usualAir)
  const dropAt = (frequencyHz: number) => -boxLevels(pattern, guessedWidthM, frequencyHz, usualAir).rearDb
  const microphones = faceToFace(sub, twoMicrophones.distanceM, twoMicrophones.frequencyHz, usualAir)
  const wavelengthM = (frequencyHz: number) => airOf(usualAir).speedOfSoundMps / frequencyHz
  return {
    'guessed-width': { value: guessedWidthM, unit: 'm' },
    shadow: { value: computedHz, unit: 'Hz' },
    'width-rule': { value: widthRuleHz, unit: 'Hz' },
    'ka-rule': { value: kaRuleHz, unit: 'Hz' },
    'width-rule-octaves-high': { value: Math.log2(widthRuleHz / computedHz), unit: 'octaves' },
    'ka-rule-octaves-low': { value: Math.log2(computedHz / kaRuleHz), unit: 'octaves' },
    'drop-at-width-rule': { value: dropAt(widthRuleHz), unit: 'dB' },
    'drop-at-ka-rule': { value: dropAt(kaRuleHz), unit: 'dB' },
    'shadow-wavelengths': { value: wavelengthM(computedHz) / guessedWidthM, unit: 'times' },
    'drop-two-octaves-below': { value: dropAt(computedHz / 4), unit: 'dB' },
    'gradual-from': { value: fromHz, unit: 'Hz' },
    'gradual-to': { value: toHz, unit: 'Hz' },
    'gradual-octaves': { value: Math.log2(toHz / fromHz), unit: 'octaves' },
    number: { value: rearDownHz(pattern, 1, shadowDropDb, usualAir), unit: 'Hz·m' },
    'front-gain-high': { value: Math.max(...pattern.frontGainDb), unit: 'dB' },
    'wavelength-60': { value: wavelengthM(60), unit: 'm' },
    'wavelength-2k': { value: wavelengthM(2000), unit: 'm' },
    'top-width': { value: top.widthM, unit: 'm' },
    'top-shadow': { value: rearDownHz(pattern, top.widthM, shadowDropDb, usualAir), unit: 'Hz' },
    'sub-width': { value: sub.widthM, unit: 'm' },
    'sub-depth': { value: sub.depthM, unit: 'm' },
    'sub-shadow': { value: cabinetShadowHz(sub, usualAir), unit: 'Hz' },
    'microphone-distance': { value: twoMicrophones.distanceM, unit: 'm' },
    'microphones-total': { value: -microphones.totalDb, unit: 'dB' },
    'microphones-path': { value: -microphones.pathDb, unit: 'dB' },
    'microphones-round': { value: -microphones.roundDb, unit: 'dB' },
    'microphones-steered': { value: -microphones.steeredDb, unit: 'dB' },
  }
}
