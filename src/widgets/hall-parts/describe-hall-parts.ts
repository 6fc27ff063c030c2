import type { HallSize, PlanPoint, ShoeboxMode } from '../../acoustics/index.ts'
import type { BandShares } from '../../engine/questions/hall/hall-balance.ts'
import type { HallMap, LoudestPlace } from '../../engine/questions/hall/hall-map.ts'
import type { HallAnswer } from '../../engine/questions/hall/hall-parts.ts'
import { roomAround } from '../../engine/scene/room.ts'
import { referenceDistanceM } from '../../engine/scene/scene-terms.ts'
import type { LengthUnit } from '../../state/preferences.ts'
import { directionWords } from '../../words/directions.ts'
import { fineFrequencyText, frequencyText } from '../../words/frequencies.ts'
import { lengthText } from '../../words/lengths.ts'
import { underWords } from '../../words/levels.ts'
import { decimalText, percentText } from '../../words/numbers.ts'
import * as say from './hall-parts.messages.ts'

/** The listener's direction from the rig, degrees to the right from straight ahead. */
export const angleDegOf = ({ xM, zM }: { xM: number; zM: number }): number => (Math.atan2(xM, zM) * 180) / Math.PI

/** How much of the sound is the hall's. */
export function hallShareWords({ hall, gainDb }: BandShares): string {
  if (hall === null || gainDb < 0.05) {
    const taken = Math.round(-gainDb)
    return taken === 0 ? say.hallAddsNothing() : say.hallTakes({ decibels: taken })
  }
  if (hall < 0.005) return say.hallHasNextToNothing()
  return hall > 0.995 ? say.hallHasAllButAll() : say.hallHas({ share: percentText(hall) })
}

/** The number at the listener: '94 % the hall's'; '' where the hall has no share of its own. */
export const shareAtMark = ({ shares }: HallAnswer): string =>
  shares.here.hall === null ? '' : say.shareAtMark({ share: percentText(shares.here.hall) })

/** The finding at this place: the figure's own behind, if the hall lifts the treble by 3 dB or more there; else who has most. */
export function hallFinding(answer: HallAnswer, angleDeg: number, behind: string): string {
  if (answer.trebleDb - answer.trebleDirectDb >= 3) return Math.abs(angleDeg) > 90 ? behind : say.findingBack()
  return (answer.shares.here.hall ?? 0) > 0.5 ? say.findingHall() : say.findingDirect()
}

/** A level against the front where that has just been named. */
const against = (levelDb: number) => (levelDb === 0 ? 'same' : levelDb > 0 ? 'over' : 'under')

/** The one live sentence: how much of the sound here is the hall's, and what treble there would be without it. */
export function hallSentence(
  answer: HallAnswer,
  { xM, zM, bandHz }: { xM: number; zM: number; bandHz: number },
  units: LengthUnit,
): string {
  const share = say.shareHere({
    frequency: frequencyText(bandHz),
    distance: lengthText(answer.distanceM, units),
    where: directionWords(angleDegOf({ xM, zM })),
    share: hallShareWords(answer.shares.here),
  })
  const [without, within] = [Math.round(answer.trebleDirectDb), Math.round(answer.trebleDb)]
  const treble =
    without === within
      ? say.trebleAlike({ treble: underWords(within, say.asInFront()) })
      : say.treble({
          estimate: Math.abs(xM) >= zM,
          without: underWords(without, say.asInFront()),
          within: against(within),
          withinDb: Math.abs(within),
        })
  return `${share} ${treble}`
}

/** What the hall does to the bass, and what of the front is the hall's. */
export function bassSentence(answer: HallAnswer): string {
  const [without, within] = [Math.round(answer.bassDirectDb), Math.round(answer.bassDb)]
  const here = underWords(within, say.asInFront())
  const bass =
    without === within
      ? say.bassAlike({ bass: here })
      : say.bass({ within: here, without: against(without), withoutDb: Math.abs(without) })
  const front = say.shareInFront({ share: hallShareWords(answer.shares.front) })
  return `${bass} ${front}`
}

/** Where direct sound and all that the hall adds are equally strong. */
export function equalSentence(
  { equalM, equalToWall, lateFromHz }: HallAnswer,
  bandHz: number,
  units: LengthUnit,
): string {
  if (!equalM) return say.noCriticalDistance({ frequency: frequencyText(bandHz), hertz: Math.round(lateFromHz) })
  if (equalToWall) return say.strongerToWall({ frequency: frequencyText(bandHz) })
  const [aheadM, behindM] = [equalM[0] ?? 0, equalM[equalM.length / 2] ?? 0]
  const ahead = { frequency: frequencyText(bandHz), ahead: lengthText(aheadM, units) }
  if (behindM < 0.4) return say.equallyStrongAhead(ahead)
  return say.equallyStrong({ ...ahead, behind: lengthText(behindM, units) })
}

/** What one octave consists of, in whole percent. */
export function partsWords({ direct, early, late }: BandShares, hasLate: boolean): string {
  const parts = { direct: percentText(direct), early: percentText(early) }
  return hasLate ? say.threeParts({ ...parts, late: percentText(late) }) : say.twoParts(parts)
}

/** How long the hall rings in the band. */
export const decayWords = (decayS: number, bandHz: number): string =>
  say.decay({ frequency: frequencyText(bandHz), seconds: decimalText(decayS, 1) })

const places: Record<LoudestPlace, () => string> = {
  'corner-behind': say.cornerBehind,
  'corner-opposite': say.cornerOpposite,
  'wall-behind': say.wallBehind,
  'wall-opposite': say.wallOpposite,
  'wall-side': say.wallSide,
  inside: say.inside,
}

/** What a resonance is made of: '3 half waves across, 1 up'. */
export function modeWords({ orders: [length, width, height] }: ShoeboxMode): string {
  const [along, across] = [length > 0, width > 0]
  const up = height === 0 ? 'no' : along || across ? 'after' : 'alone'
  return say.mode({ along, across, up, length, width, height, thenWidth: width, thenHeight: height })
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
  const loudest = say.loudest({
    frequency: fineFrequencyText(frequencyHz),
    place: places[map.loudest](),
    against: against(over),
    decibels: Math.abs(over),
    reference: lengthText(referenceDistanceM, units),
  })
  const yours = mapLevelAt(map, hall, listener)
  const you =
    yours === undefined
      ? ''
      : Math.round(yours) >= 0
        ? say.asLoudHere()
        : say.lessHere({ decibels: Math.round(-yours) })
  const quietest = say.quietest({ decibels: Math.round(-map.quietestDb) })
  const mode = nearestMode(modes, frequencyHz)
  const nearest =
    mode && say.nearestResonance({ frequency: fineFrequencyText(mode.frequencyHz), mode: modeWords(mode) })
  return [loudest, you, quietest, nearest].filter(Boolean).join(' ')
}
