import { dipsHz, hornControlHz, type Rig, type RigCabinet } from '../../../acoustics/index.ts'
import type { HornMouth } from '../../../acoustics/radiation/cabinet.ts'
import { type AirState, airOf } from '../../scene/air.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import { frequencyOfMouthHz, hornCurve, hornRange } from '../horn/horn.ts'
import { ownBoxKnown } from '../own-box/own-box.ts'
import { wrapAnswer } from '../own-box/own-box-terms.ts'
import { boxOf } from '../steer/steer-boxes.ts'
import { lessonQuestion } from '../steer/steer-lesson.ts'
import { textbookSet } from '../steer/textbook-set.ts'
import { wallAnswer } from '../wall/wall.ts'
import {
  type CardAnswer,
  type CardBox,
  type CardColumn,
  type CardHorn,
  type CardPair,
  type CardQuestion,
  cardFrontM,
  cardGapsM,
} from './card-terms.ts'

// Every number of the card for the van, from the functions that the lessons' own figures use.

const degree = Math.PI / 180

/**
 * The numbers of a rig for the card.
 *
 * @throws RangeError for a rig that is not sound
 */
export function cardAnswer({ rig, air }: CardQuestion): CardAnswer {
  return {
    boxes: boxesOf(rig, air),
    horns: hornsOf(rig, air),
    columns: columnsOf(rig, air),
    depthM: rigDepthM(rig),
    dips: cardGapsM.map((gapM) => {
      const surroundings = { kind: 'wall', finish: 'hard-walls', gapM } as const
      const { dip } = wallAnswer({
        rig,
        surroundings,
        frontM: cardFrontM,
        fromWallM: 0,
        frequencyHz: 100,
        ...inAir(air),
      })
      return { gapM, dipHz: dip?.frequencyHz ?? null }
    }),
    pair: pairOf(rig, air),
  }
}

const inAir = (air: AirState | undefined) => (air ? { air } : {})
const labelOf = ({ label, name }: RigCabinet): string => label ?? name

/** Things that are alike by a key, in the order of the first of each. */
function alike<T>(all: readonly T[], keyOf: (one: T) => unknown): T[][] {
  const groups = new Map<string, T[]>()
  for (const one of all) {
    const key = JSON.stringify(keyOf(one))
    groups.set(key, [...(groups.get(key) ?? []), one])
  }
  return [...groups.values()]
}

/** Of each kind of cabinet, where it stops wrapping. */
function boxesOf(rig: Rig, air: AirState | undefined): CardBox[] {
  const kinds = alike(rig.cabinets, ({ widthM, heightM, depthM, ways }) => [widthM, heightM, depthM, ways])
  return kinds.map((cabinets) => {
    const [{ widthM, heightM, depthM, ways }] = cabinets as [RigCabinet]
    const { bands } = ownBoxKnown({ box: { widthM, heightM, depthM, ways }, ...inAir(air) })
    const { computedHz, settled, kaIsOneHz } = wrapAnswer(bands, widthM, air)
    return { labels: [...new Set(cabinets.map(labelOf))], widthM, wrapHz: computedHz, isSolved: settled, kaIsOneHz }
  })
}

/** Both planes of each kind of horn. */
function hornsOf(rig: Rig, air: AirState | undefined): CardHorn[] {
  const drivers = rig.cabinets.flatMap(({ ways }) => ways.flatMap((way) => way.drivers))
  const mouths = drivers.filter((driver) => driver.kind === 'horn')
  const kinds = alike<HornMouth>(mouths, (mouth) => [
    mouth.mouthWidthM,
    mouth.mouthHeightM,
    mouth.horizontalCoverageRad,
    mouth.verticalCoverageRad,
  ])
  return kinds.flatMap(([mouth]) => {
    if (!mouth) return []
    return [
      planeOf('across', mouth.mouthWidthM, mouth.horizontalCoverageRad, air),
      planeOf('upright', mouth.mouthHeightM, mouth.verticalCoverageRad, air),
    ]
  })
}

function planeOf(plane: CardHorn['plane'], mouthM: number, coverageRad: number, air: AirState | undefined): CardHorn {
  // An angle of a whole number of degrees comes out of radians as one.
  const coverageDeg = Number((coverageRad / degree).toFixed(6))
  const { min, max } = hornRange.coverageDeg
  const isKnown = coverageDeg >= min && coverageDeg <= max
  return {
    plane,
    mouthM,
    coverageDeg,
    letsGoHz: isKnown ? frequencyOfMouthHz(hornCurve(coverageDeg).letsGoAt, mouthM, air) : null,
    ruleHz: hornControlHz(mouthM, coverageRad, airOf(air)),
  }
}

/** Fewer drivers than this are no row that holds its sound in height. */
const fewestInColumn = 3

/** The rows of drivers one above the other: of one way, of one kind, and evenly spaced to a tenth. */
function columnsOf(rig: Rig, air: AirState | undefined): CardColumn[] {
  const { speedOfSoundMps } = airOf(air)
  const ways = rig.cabinets.flatMap((cabinet) => cabinet.ways)
  return alike(ways, ({ drivers }) => drivers).flatMap(([way]) => {
    const drivers = way?.drivers ?? []
    const heightsM = drivers.map(({ yM }) => yM).sort((a, b) => a - b)
    const stepsM = heightsM.slice(1).map((yM, index) => yM - (heightsM[index] as number))
    const spacingM = stepsM.reduce((sum, stepM) => sum + stepM, 0) / stepsM.length
    const isRow =
      drivers.length >= fewestInColumn &&
      drivers.every(({ kind, xM }) => kind === 'piston' && Math.abs(xM - (drivers[0]?.xM ?? 0)) < 1e-3) &&
      stepsM.every((stepM) => Math.abs(stepM / spacingM - 1) < 0.1)
    if (!isRow) return []
    const lengthM = drivers.length * spacingM
    return [
      { count: drivers.length, lengthM, oneWaveHz: speedOfSoundMps / lengthM, furtherHz: speedOfSoundMps / spacingM },
    ]
  })
}

/** A band must be at least so wide to be worth steering, as a ratio: a third of an octave. */
const leastBand = 2 ** (1 / 3)

/** The pair of the books of the rig's lowest cabinet, in the part of lesson 8's band that it plays. */
function pairOf(rig: Rig, air: AirState | undefined): CardPair | null {
  const box = boxOf(rig)
  const { band: lesson } = lessonQuestion(rig)
  const band = {
    fromHz: Math.max(lesson.fromHz, box.way.highPass?.frequencyHz ?? 0),
    toHz: Math.min(lesson.toHz, box.way.lowPass?.frequencyHz ?? Number.POSITIVE_INFINITY),
  }
  if (band.toHz < leastBand * band.fromHz) return null
  const { speedOfSoundMps } = airOf(air)
  const { spacingM, delayS } = textbookSet('pair', 2, band, box, speedOfSoundMps)
  // There and back over a quarter wave is half a wave: where a way twice as long dips.
  const quarterHz = dipsHz(2 * spacingM, 1000, airOf(air))[0] ?? 0
  return { label: labelOf(box.cabinet), band, spacingM, delayS, quarterHz }
}
