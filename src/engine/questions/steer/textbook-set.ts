import { neededSpacingM, pointTrioM, type SteerSize, sizeOf, spacingOnGrid } from './steer-boxes.ts'
import { type Checked, steerProblem } from './steer-check.ts'
import { type Arrangement, type SteerBand, type SteerSet, steerRange } from './steer-terms.ts'

const { max: mostM, step: stepM } = steerRange.spacingM

/** Middle of a band, Hz: the geometric mean. */
const middleHz = ({ fromHz, toHz }: SteerBand): number => Math.sqrt(fromHz * toHz)

/** How far apart left and right stand when nobody has said so, m. */
const leftRightM = 6

/**
 * The setting of the books for a band.
 *
 *   pair        a quarter wavelength at the middle of the band but at least what the boxes need; delay d/c, inverted
 *   trio        the middle one turned, its face as far behind the others' as a box is deep; delay d/c, inverted
 *   end-fire    a quarter wavelength at the middle of the band; delay d/c from box to box
 *   row         as far apart as half a wavelength at the top of the band allows; no delay
 *   left-right  no delay
 *
 * All at equal level. Spacings lie on the grid of steerRange, the delay belongs to the spacing exactly.
 * Source: common practice, no source.
 */
export function textbookSet(
  arrangement: Arrangement,
  count: number,
  band: SteerBand,
  size: SteerSize,
  speedOfSoundMps: number,
): SteerSet {
  const delayed = arrangement === 'pair' || arrangement === 'trio' || arrangement === 'end-fire'
  const set = {
    arrangement,
    count,
    delayS: 0,
    inverted: arrangement === 'pair' || arrangement === 'trio',
    turned: arrangement === 'trio',
    levelDb: 0,
  }
  const wantedM = () => {
    switch (arrangement) {
      case 'trio':
        return size.depthM || pointTrioM
      case 'row':
        return stepM * Math.floor(speedOfSoundMps / (2 * band.toHz) / stepM)
      case 'left-right':
        return leftRightM
      default:
        return speedOfSoundMps / (4 * middleHz(band))
    }
  }
  const spacingM = Math.max(neededSpacingM(set, size), Math.min(mostM, spacingOnGrid(Math.round(wantedM() / stepM))))
  return { ...set, spacingM, delayS: delayed ? spacingM / speedOfSoundMps : 0 }
}

/** Delay that a spacing asks for, s: the sound's way from box to box. */
export const delayOfSpacingS = (spacingM: number, speedOfSoundMps: number): number => spacingM / speedOfSoundMps

/**
 * The setting of the books; where the hall, a wall or a place does not leave it room, closer together as far as needed, or else
 * wider apart. Null if nothing fits.
 */
export function textbookThatFits(question: Checked, speedOfSoundMps: number): SteerSet | null {
  const { set, band } = question
  const size = sizeOf(question)
  const wanted = textbookSet(set.arrangement, set.count, band, size, speedOfSoundMps)
  const from = Math.round(wanted.spacingM / stepM)
  const closest = Math.round(neededSpacingM(wanted, size) / stepM)
  const widest = Math.round(mostM / stepM)
  const closer = Array.from({ length: Math.max(1, from - closest + 1) }, (_, i) => from - i)
  const wider = Array.from({ length: widest - from }, (_, i) => from + 1 + i)
  for (const step of [...closer, ...wider]) {
    const spacingM = spacingOnGrid(step)
    const delayS = wanted.delayS > 0 ? delayOfSpacingS(spacingM, speedOfSoundMps) : 0
    const fitted = { ...wanted, spacingM, delayS }
    if (!steerProblem({ ...question, set: fitted })) return fitted
  }
  return null
}
