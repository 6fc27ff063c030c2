import type { Cabinet } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import { decibels, type Fact, hertz, metres, octaves, times } from '../fact.ts'
import { cabinetShadowHz, faceToFace } from './box-and-wave.ts'
import { type BoxPattern, boxLevels, rearDownHz, shadowBegin, shadowDropDb } from './box-pattern.ts'
import { realBoxFacts } from './real-box.ts'

/** The box of the guess and of the figure's first state, m wide. */
export const guessedWidthM = 0.5

/** The bass that the words measure with two microphones, and how far each is from its face. */
const twoMicrophones = { frequencyHz: 63, distanceM: 2 } as const

/** How far the rear falls over the change that the words call gradual, dB. */
const gradualDb = { from: 1, to: 10 } as const

/**
 * The numbers of the prose, from the same functions as the figures. Shadow: rear 6 dB under front, far away (ours).
 * Numbers without "top" or "sub" are for a box 0.5 m wide with the top's proportions.
 *
 * @param pattern  of the figure's box
 * @param top  a cabinet with the pattern's proportions
 * @param sub  a cabinet with a cone, for the two microphones
 * @throws RangeError for a cabinet without a cone or out of range
 */
export function boxFacts(pattern: BoxPattern, top: Cabinet, sub: Cabinet) {
  const { computedHz, widthRuleHz, kaRuleHz } = shadowBegin(pattern, guessedWidthM, usualAir)
  const fromHz = rearDownHz(pattern, guessedWidthM, gradualDb.from, usualAir)
  const toHz = rearDownHz(pattern, guessedWidthM, gradualDb.to, usualAir)
  const dropAt = (frequencyHz: number) => -boxLevels(pattern, guessedWidthM, frequencyHz, usualAir).rearDb
  const microphones = faceToFace(sub, twoMicrophones.distanceM, twoMicrophones.frequencyHz, usualAir)
  const tenth = (lossDb: number) => Math.round(10 * lossDb) / 10
  const [totalDb, pathDb, steeredDb] = [microphones.totalDb, microphones.pathDb, microphones.steeredDb].map((levelDb) =>
    tenth(-levelDb),
  ) as [number, number, number]
  const wavelengthM = (frequencyHz: number) => airOf(usualAir).speedOfSoundMps / frequencyHz
  return {
    'guessed-width': metres(guessedWidthM),
    shadow: hertz(computedHz),
    'width-rule': hertz(widthRuleHz),
    'ka-rule': hertz(kaRuleHz),
    'width-rule-octaves-high': octaves(Math.log2(widthRuleHz / computedHz)),
    'ka-rule-octaves-low': octaves(Math.log2(computedHz / kaRuleHz)),
    'drop-at-width-rule': decibels(dropAt(widthRuleHz)),
    'drop-at-ka-rule': decibels(dropAt(kaRuleHz)),
    'shadow-wavelengths': times(wavelengthM(computedHz) / guessedWidthM),
    'drop-two-octaves-below': decibels(dropAt(computedHz / 4)),
    'gradual-from': hertz(fromHz),
    'gradual-to': hertz(toHz),
    'gradual-octaves': octaves(Math.log2(toHz / fromHz)),
    number: { value: rearDownHz(pattern, 1, shadowDropDb, usualAir), unit: 'Hz·m' },
    'front-gain-high': decibels(Math.max(...pattern.frontGainDb)),
    'wavelength-60': metres(wavelengthM(60)),
    'wavelength-2k': metres(wavelengthM(2000)),
    'top-width': metres(top.widthM),
    'top-shadow': hertz(rearDownHz(pattern, top.widthM, shadowDropDb, usualAir)),
    'top-own-shadow': hertz(cabinetShadowHz(top, usualAir)),
    'sub-width': metres(sub.widthM),
    'sub-depth': metres(sub.depthM),
    'sub-by-number': hertz(rearDownHz(pattern, sub.widthM, shadowDropDb, usualAir)),
    'sub-shadow': hertz(cabinetShadowHz(sub, usualAir)),
    'microphone-distance': metres(twoMicrophones.distanceM),
    // To the tenth, and what is left over goes to the middle one, so that the rows of the table add up.
    'microphones-total': decibels(totalDb),
    'microphones-path': decibels(pathDb),
    'microphones-round': decibels(tenth(totalDb - pathDb - steeredDb)),
    'microphones-steered': decibels(steeredDb),
    ...realBoxFacts(),
  } satisfies Record<string, Fact>
}
