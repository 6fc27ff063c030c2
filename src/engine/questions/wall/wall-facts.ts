import { dipsHz, divide, type Rig, risesHz } from '../../../acoustics/index.ts'
import { airOf, usualAir } from '../../scene/air.ts'
import type { Finish } from '../../scene/finishes.ts'
import { freeField } from '../../scene/free-field.ts'
import { rigDepthM } from '../../scene/rig-outline.ts'
import {
  decibels,
  type Fact,
  factsBy,
  hertz,
  keptByRig,
  metres,
  metresPerSecond,
  needed,
  percent,
  times,
} from '../fact.ts'
import { type WallAnswer, wallAnswer } from './wall.ts'
import { gapOfFaceM, lessonFaceToWallM, narrowBands, wallRange } from './wall-terms.ts'

/** Distances of the lesson's table from the back of the box to the wall, m, by the names of its rows. */
export const wallTableGapsM = { touching: 0.05, close: 0.3, short: 0.6, usual: 1.2, long: 2.5, far: 5 } as const
type WallTableRow = keyof typeof wallTableGapsM

/** Where the words put the listener, and the place between box and wall, m. */
const frontM = 4
const rearOffWallM = 0.3
const micOffWallM = 1

/** A dip that the words call shallow, dB: half the power. */
const shallowDb = 3

/** Between these frequencies a dip counts as one of the bass, Hz. */
const bassDipsHz = { from: 30, to: 200 }

const air = airOf(usualAir)
/** The rig before a hard wall in the lesson's case, or otherwise as far as it is said. */
type WallCase = (change: { gapM?: number; finish?: Finish; listenerM?: number }) => WallAnswer

/** The numbers of the lesson for one rig before a hard wall, from the function that its figure uses. */
export const wallFacts = keptByRig((rig: Rig) => {
  const at: WallCase = ({ listenerM = frontM, ...wall }) => {
    const gapM = wall.gapM ?? gapOfFaceM(lessonFaceToWallM, rig)
    return wallAnswer({
      rig,
      surroundings: { kind: 'wall', finish: 'hard-walls', ...wall, gapM },
      frontM: listenerM,
      fromWallM: Math.min(rearOffWallM, gapM),
      frequencyHz: 100,
      air: usualAir,
    })
  }
  const usual = at({})
  const dip = needed(usual.dip, 'a dip')
  const ruleDipHz = dipsHz(usual.thereAndBackM, 1000, air)
  const ruleRiseHz = risesHz(usual.thereAndBackM, 1000, air)
  const turnedM = wallRange.gapM.min + lowestCabinet(rig).widthM / 2
  const equalM = usual.faceToWallM - rearOffWallM
  const equal = at({ listenerM: equalM })
  const more = moreBehind(equal)
  const shallow = shallowGapM(at)
  return {
    ...tableFacts(at),
    'face-to-wall': metres(usual.faceToWallM),
    'there-and-back': metres(usual.thereAndBackM),
    'box-depth': metres(rigDepthM(rig)),
    'speed-of-sound': metresPerSecond(air.speedOfSoundMps),
    'rule-dip': hertz(needed(ruleDipHz[0], 'a rule')),
    'rule-rise': hertz(needed(ruleRiseHz[0], 'a rule')),
    'rule-second-dip': hertz(needed(ruleDipHz[1], 'a rule')),
    dip: hertz(dip.frequencyHz),
    'dip-depth': decibels(-dip.changeDb),
    'change-at-rule-rise': decibels(usual.trains.changeDb),
    'seems-farther': metres(needed(usual.seemsFartherM, 'a seeming distance')),
    'centre-ahead': metres(centreAheadM(rig, dip.frequencyHz)),
    'dip-shift': hertz(needed(usual.dipShiftHz, 'a shift')),
    'front-distance': metres(frontM),
    'equal-distance': metres(equalM),
    'rear-off-wall': metres(rearOffWallM),
    'more-from': hertz(more.fromHz),
    'more-to': hertz(more.toHz),
    'more-at-dip': decibels(more.atDipDb),
    'apart-at-rise': decibels(Math.abs(more.atRiseDb)),
    'bass-at-equal-distance': decibels(equal.rearBassDb),
    'share-rear': percent(needed(equal.heard, 'a loudness').rear.bassShare),
    'share-front': percent(needed(equal.heard, 'a loudness').front.bassShare),
    'mic-off-wall': metres(micOffWallM),
    'mic-dip': hertz(needed(dipsHz(2 * micOffWallM, 1000, air)[0], 'a rule')),
    'dip-depth-timber': decibels(-needed(at({ finish: 'wooden-lining' }).dip, 'a dip before timber').changeDb),
    'dip-depth-curtain': decibels(-needed(at({ finish: 'cotton-curtains' }).dip, 'a dip before a curtain').changeDb),
    'shallow-beyond': metres(shallow),
    'shallow-dip': decibels(shallowDb),
    'turned-face': metres(turnedM),
    'turned-dip': hertz(needed(dipsHz(2 * turnedM, 1000, air)[0], 'a rule')),
    'metre-rule': hertz(air.speedOfSoundMps / 4),
    'fill-power': times(10 ** (-dip.changeDb / 10)),
  } satisfies Record<string, Fact>
})

function tableFacts(at: WallCase) {
  return factsBy(
    (Object.keys(wallTableGapsM) as WallTableRow[]).flatMap((row) => {
      const gapM = wallTableGapsM[row]
      const { faceToWallM, ruleDipsHz, dip } = at({ gapM })
      const lowest = needed(dip, `a dip of row ${row}`)
      // The rule's dip that belongs to the lowest computed one: below the chart's end the rule may have one that is not drawn.
      const rule = ruleDipsHz.reduce((best, next) =>
        Math.abs(Math.log(next / lowest.frequencyHz)) < Math.abs(Math.log(best / lowest.frequencyHz)) ? next : best,
      )
      const facts: [`${'gap' | 'face' | 'rule' | 'dip' | 'depth'}-${WallTableRow}`, Fact][] = [
        [`gap-${row}`, metres(gapM)],
        [`face-${row}`, metres(faceToWallM)],
        [`rule-${row}`, hertz(rule)],
        [`dip-${row}`, hertz(lowest.frequencyHz)],
        [`depth-${row}`, decibels(-lowest.changeDb)],
      ]
      return facts
    }),
  )
}

/**
 * The range of the bass, from the chart's lowest frequency up, in which the place behind is louder than the front, and how much
 * louder it is, dB, where the rule puts the dip and the rise in front.
 */
type MoreBehind = { fromHz: number; toHz: number; atDipDb: number; atRiseDb: number }

/** Up to the first crossing of 0 dB, which is laid between two narrow bands by a straight line. */
function moreBehind(answer: WallAnswer): MoreBehind {
  const differences = narrowBands.map(({ centreHz }, band) => ({
    frequencyHz: centreHz,
    levelDb: (answer.rearDb[band] as number) - (answer.frontDb[band] as number),
  }))
  const end = differences.findIndex(({ levelDb }) => levelDb <= 0)
  const [last, beyond] = [needed(differences[end - 1], 'more bass behind'), needed(differences[end], 'an end of it')]
  const part = last.levelDb / (last.levelDb - beyond.levelDb)
  const near = (frequencyHz: number) => {
    const away = differences.map((band) => Math.abs(Math.log(band.frequencyHz / frequencyHz)))
    return needed(differences[away.indexOf(Math.min(...away))], 'a band').levelDb
  }
  return {
    fromHz: needed(differences[0], 'more bass behind').frequencyHz,
    toHz: last.frequencyHz * (beyond.frequencyHz / last.frequencyHz) ** part,
    atDipDb: near(needed(answer.ruleDipsHz[0], 'a rule')),
    atRiseDb: near(needed(answer.ruleRisesHz[0], 'a rule')),
  }
}

/** The cabinet that stands lowest, which is the one for the bass. */
const lowestCabinet = (rig: Rig) =>
  rig.cabinets.reduce((lowest, next) => (next.frontCentre.yM < lowest.frontCentre.yM ? next : lowest))

/** Far enough away that a wave is round, m. */
const farM = 200

/**
 * How far in front of the front face the bass seems to come from, seen from far away in free air: half the way by which the
 * wave to the rear is later than the wave to the front, m. At the height of the lowest cabinet.
 */
function centreAheadM(rig: Rig, frequencyHz: number): number {
  const free = freeField(rig, air)
  const { yM } = lowestCabinet(rig).frontCentre
  const [front, rear] = [farM, -farM].map((zM) => free.transferAt({ xM: 0, yM, zM }, frequencyHz))
  const { re, im } = divide(needed(front, 'the front'), needed(rear, 'the rear'))
  return (Math.atan2(im, re) * air.speedOfSoundMps) / (4 * Math.PI * frequencyHz)
}

/** The gap from which on no dip of the bass is deeper than shallowDb, m, by halving. */
function shallowGapM(at: WallCase): number {
  const deepest = (gapM: number) => {
    const { frontDb, frontFreeDb } = at({ gapM })
    return Math.max(
      ...narrowBands.flatMap(({ centreHz }, band) =>
        centreHz >= bassDipsHz.from && centreHz <= bassDipsHz.to
          ? [(frontFreeDb[band] as number) - (frontDb[band] as number)]
          : [],
      ),
    )
  }
  let [low, high] = [1, wallRange.gapM.max as number]
  if (deepest(high) > shallowDb) throw new Error('no distance in range makes every dip shallow; the lesson names one')
  for (let round = 0; round < 12; round++) {
    const middle = (low + high) / 2
    if (deepest(middle) > shallowDb) low = middle
    else high = middle
  }
  return high
}
