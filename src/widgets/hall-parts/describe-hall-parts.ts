import type { HallSize, PlanPoint, ShoeboxMode } from '../../acoustics/index.ts'
import type { HallMap, LoudestPlace } from '../../engine/questions/hall/hall-map.ts'
import type { BandShares, HallAnswer } from '../../engine/questions/hall/hall-parts.ts'
import { roomAround } from '../../engine/scene/room.ts'
import { referenceDistanceM } from '../../engine/scene/scene-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { directionWords } from '../../words/directions.ts'
import { fineFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import { underWords } from '../../words/levels.ts'
import { percentText } from '../../words/numbers.ts'

/** The listener's direction from the rig, degrees to the right from straight ahead. */
export const angleDegOf = ({ xM, zM }: { xM: number; zM: number }): number => (Math.atan2(xM, zM) * 180) / Math.PI

/** How much of the sound is the hall's. */
export function hallShareWords({ hall, gainDb }: BandShares): string {
  if (hall === null || gainDb < 0.05) {
    const taken = Math.round(-gainDb)
    return taken === 0
      ? 'the hall adds nothing: its reflections cancel as much as they bring'
      : `the hall takes ${taken} dB away: its reflections cancel part of the direct sound`
  }
  if (hall < 0.005) return 'next to nothing of the sound is the hall’s'
  return `${hall > 0.995 ? 'all but all' : percentText(hall)} of the sound is the hall’s`
}

/** The one live sentence: how much of the sound here is the hall's, and what treble there would be without it. */
export function hallSentence(
  answer: HallAnswer,
  { xM, zM, bandHz }: { xM: number; zM: number; bandHz: number },
  units: LengthUnit,
): string {
  const where = `${lengthText(answer.distanceM, units)} ${directionWords(angleDegOf({ xM, zM }))} the loudspeaker`
  const share = `At ${frequencyText(bandHz)}, ${where}, ${hallShareWords(answer.shares.here)}.`
  const [without, within] = [Math.round(answer.trebleDirectDb), Math.round(answer.trebleDb)]
  if (without === within)
    return `${share} It changes nothing in the treble here against the front: ${underWords(within, 'as strong as in front')}.`
  return `${share} Without the hall, treble here would be ${Math.abs(xM) < zM ? '' : 'about '}${underWords(without, 'as strong as in front')}; with it, ${underWords(within, 'as strong as in front').replace(' the front', '')}.`
}

/** What the hall does to the bass, and what of the front is the hall's. */
export function bassSentence(answer: HallAnswer, bandHz: number): string {
  const [without, within] = [Math.round(answer.bassDirectDb), Math.round(answer.bassDb)]
  const bass =
    without === within
      ? `Bass is ${underWords(within, 'as strong as in front')}, with the hall and without it.`
      : `Bass here is ${underWords(within, 'as strong as in front')}; without the hall it would be ${underWords(without, 'as strong as in front').replace(' the front', '').replace(' as in front', '')}.`
  return `${bass} In front, at ${frequencyText(bandHz)}, ${hallShareWords(answer.shares.front)}.`
}

/** Where direct and reverberant sound are equally strong. */
export function equalSentence({ equalM, lateFromHz }: HallAnswer, bandHz: number, units: LengthUnit): string {
  if (!equalM)
    return `Below ${Math.round(lateFromHz)} Hz this hall is a matter of single resonances: there is no one critical distance. Look at the map of resonances.`
  const [ahead, behind] = [equalM[0] ?? 0, equalM[equalM.length / 2] ?? 0]
  const back =
    behind < 0.4
      ? 'straight behind the hall is the stronger one right from the box'
      : `straight behind, ${lengthText(behind, units)} from it`
  return `At ${frequencyText(bandHz)} direct and reverberant sound are equally strong ${lengthText(ahead, units)} in front of the box; ${back}.`
}

/** What one band consists of, in whole percent. */
export function partsWords({ direct, early, late }: BandShares, hasLate: boolean): string {
  const parts = hasLate
    ? [`direct ${percentText(direct)}`, `early reflections ${percentText(early)}`, `reverberant ${percentText(late)}`]
    : [`direct ${percentText(direct)}`, `all reflections ${percentText(early)}`]
  return parts.join(', ')
}

/** How long the hall rings in the band. */
export const decayWords = (decayS: number, bandHz: number): string =>
  `At ${frequencyText(bandHz)} the hall takes ${decayS.toFixed(1)} s to fall by 60 dB.`

const places: Record<LoudestPlace, string> = {
  'corner-behind': 'a corner at the wall behind the loudspeaker',
  'corner-opposite': 'a corner at the far wall',
  'wall-behind': 'the wall behind the loudspeaker',
  'wall-opposite': 'the far wall',
  'wall-side': 'a side wall',
  inside: 'a place in the middle of the hall',
}

/** What a resonance is made of: '3 half waves across, 1 up'. */
export function modeWords({ orders: [length, width, height] }: ShoeboxMode): string {
  const parts = [
    { count: length, words: 'along the hall' },
    { count: width, words: 'across it' },
    { count: height, words: 'up' },
  ].filter(({ count }) => count > 0)
  return parts
    .map(({ count, words }, index) => `${count}${index === 0 ? ` half wave${count === 1 ? '' : 's'}` : ''} ${words}`)
    .join(', ')
    .replace(/ it(?=,|$)/, parts[0]?.words === 'across it' ? ' the hall' : ' it')
}

/** The resonance nearest to a frequency. */
export const nearestMode = (modes: readonly ShoeboxMode[], frequencyHz: number): ShoeboxMode | undefined =>
  modes.reduce<ShoeboxMode | undefined>(
    (best, next) =>
      best && Math.abs(best.frequencyHz - frequencyHz) <= Math.abs(next.frequencyHz - frequencyHz) ? best : next,
    undefined,
  )

/** Level at a place of the map, dB re its loudest; undefined outside the hall or in a box. */
export function mapLevelAt(map: HallMap, design: HallSize, { xM, zM }: PlanPoint): number | undefined {
  const room = roomAround(design)
  const cell = (value: number, min: number, max: number, count: number) =>
    Math.round(((value - min) / (max - min)) * (count - 1))
  const column = cell(xM, room.xMinM, room.xMaxM, map.columns)
  const row = cell(zM, room.zMinM, room.zMaxM, map.rows)
  if (column < 0 || row < 0 || column >= map.columns || row >= map.rows) return undefined
  const index = row * map.columns + column
  return map.inside[index] ? undefined : map.levelDb[index]
}

/** Where the map is loudest, how uneven it is, what the listener gets, and which resonance is nearest. */
export function mapSentence(
  map: HallMap,
  { frequencyHz, hall }: { frequencyHz: number; hall: HallSize },
  modes: readonly ShoeboxMode[],
  listener: PlanPoint,
  units: LengthUnit,
): string {
  const over = Math.round(map.loudestDb)
  const against = over === 0 ? 'as loud as' : `${Math.abs(over)} dB ${over > 0 ? 'over' : 'under'}`
  const mode = nearestMode(modes, frequencyHz)
  const nearest = mode ? ` The nearest resonance is at ${fineFrequencyText(mode.frequencyHz)}: ${modeWords(mode)}.` : ''
  const yours = mapLevelAt(map, hall, listener)
  const you =
    yours === undefined
      ? ''
      : Math.round(yours) >= 0
        ? ' Where you are it is as loud as that.'
        : ` Where you are it is ${Math.round(-yours)} dB less.`
  return `At ${fineFrequencyText(frequencyHz)} the loudest place is ${places[map.loudest]}, ${against} what ${lengthText(referenceDistanceM, units)} in front gets outdoors.${you} At the quietest place it is ${Math.round(-map.quietestDb)} dB less.${nearest}`
}
