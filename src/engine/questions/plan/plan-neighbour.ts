import { aWeightingDb, cWeightingDb, levelDb, weightedLevelDb } from '../../../acoustics/index.ts'
import { requireInRange } from '../../../acoustics/numeric-range.ts'
import { reductionDbOf } from '../../scene/partitions.ts'
import { heardBands } from '../../scene/third-octaves.ts'
import { cabinetAt } from './plan-boxes.ts'
import { planScene } from './plan-scene.ts'
import { bandLevelsOf, planMeanSquares } from './plan-sound.ts'
import type { ListenedPlace, NeighbourAnswer, NeighbourQuestion } from './plan-terms.ts'

/** How far from walls and ceiling the sound in the hall is taken, m. */
const offWallM = 1

/** Part of the level inside that goes into the wall: sound in a room comes from all sides, so that a surface is met by a quarter, −6 dB. */
const intoTheWallDb = -6

/**
 * What comes through wall, roof and door to a neighbour, by third octave: each part radiates
 *
 *   L_W = L_p,in − 6 dB − R + 10 lg S,   L_p = L_W − 20 lg d − 8 dB
 *
 * over hard ground into half of all directions, from the middle of the wall that faces the neighbour; of roof and door as if they lay
 * there, too. L_p,in is the mean over places a metre off that wall, and under the ceiling for the roof.
 *
 * An estimate: it leaves out the other walls, gaps, vents and windows, what stands between, wind, ground that absorbs, and the air's own
 * absorption. 5 dB either way are usual, and 12 for doors, whose gaps decide.
 *
 * @throws RangeError for a plan without a hall, a distance, an opening or a partition out of range, or as planAnswer
 * Source: sound power of an element, EN 12354-4 (its diffuse field term −6 dB), from memory; spreading over hard ground, ISO 9613-2.
 */
export function planNeighbour(question: NeighbourQuestion): NeighbourAnswer {
  const { surroundings, distanceM, doorM2, mainPlace, programmeDbA, places } = question
  requireInRange('distanceM', distanceM, { min: 10, max: 500, unit: 'm' })
  requireInRange('doorM2', doorM2, { min: 0, max: 40, unit: 'm²' })
  if (surroundings.kind !== 'hall')
    throw new RangeError('the plan is outdoors; allowed is a hall, whose walls are between')
  const main = places.find(({ id }) => id === mainPlace)
  if (!main) throw new RangeError(`mainPlace is ${mainPlace}; allowed is one of the places`)
  const { design } = surroundings
  const scene = planScene(question)
  const clear = (spots: ListenedPlace[]) => spots.filter((spot) => !cabinetAt(question, spot))
  const [atWall, underRoof] = [clear(wallSpots(question)), clear(roofSpots(question))]
  requireInRange('places without a box near the wall and under the roof', Math.min(atWall.length, underRoof.length), {
    min: 1,
  })
  const spots = [main, ...atWall, ...underRoof]
  const squares = planMeanSquares(question, scene, spots)
  const liftDb =
    programmeDbA - weightedLevelDb(bandLevelsOf(scene.lines, squares[0] as Float64Array), heardBands, aWeightingDb)
  const meanOf = (some: Float64Array[]) =>
    bandLevelsOf(
      scene.lines,
      scene.lines.hz.map((_, line) => some.reduce((sum, each) => sum + (each[line] as number), 0) / some.length),
    ).map((level) => level + liftDb)
  const inside = { wall: meanOf(squares.slice(1, 1 + atWall.length)), roof: meanOf(squares.slice(1 + atWall.length)) }
  const wallM2 = (isAcross(question.side) ? design.widthM : design.lengthM) * design.heightM
  const through = (levels: Float64Array, partition: string, areaM2: number): number[] => {
    const reductionDb = reductionDbOf(partition)
    return heardBands.map(({ centreHz }, band) =>
      elementLevelDb(levels[band] as number, reductionDb(centreHz), areaM2, distanceM),
    )
  }
  const ways = {
    wall: through(inside.wall, question.wall, Math.max(0, wallM2 - doorM2)),
    roof: through(inside.roof, question.roof, design.lengthM * design.widthM),
    door: doorM2 > 0 ? through(inside.wall, question.door, doorM2) : null,
  }
  const total = heardBands.map((_, band) =>
    levelDb(
      [ways.wall, ways.roof, ways.door].reduce((sum, way) => sum + (way ? 10 ** ((way[band] as number) / 10) : 0), 0),
    ),
  )
  const weighted = (levels: number[], weight: (frequencyHz: number) => number) =>
    weightedLevelDb(levels, heardBands, weight)
  return {
    aWeightedDb: weighted(total, aWeightingDb),
    cWeightedDb: weighted(total, cWeightingDb),
    ways: {
      wall: weighted(ways.wall, cWeightingDb),
      roof: weighted(ways.roof, cWeightingDb),
      door: ways.door && weighted(ways.door, cWeightingDb),
    },
    strongestHz: heardBands[total.indexOf(Math.max(...total))]?.nominalHz ?? 0,
  }
}

/**
 * Level that one element of a hall's outside makes at a distance, dB: L_in − 6 − R + 10 lg S − 20 lg d − 8.
 *
 * @param insideDb     level of the sound in the hall near it, dB
 * @param reductionDb  its sound reduction index
 * @param areaM2       its area, 0 or more; nothing comes through no area
 * @param distanceM    from the wall
 */
export const elementLevelDb = (insideDb: number, reductionDb: number, areaM2: number, distanceM: number): number =>
  insideDb + intoTheWallDb - reductionDb + 10 * Math.log10(Math.max(areaM2, 1e-9)) - 20 * Math.log10(distanceM) - 8

const isAcross = (side: NeighbourQuestion['side']): boolean => side === 'wallBehind' || side === 'wallOpposite'

const shares = [-1 / 3, 0, 1 / 3]

function wallSpots({ side, surroundings }: NeighbourQuestion): ListenedPlace[] {
  if (surroundings.kind !== 'hall') return []
  const { lengthM, widthM, heightM } = surroundings.design
  return shares.map((share, index) => {
    const along = { xM: share * widthM, zM: (0.5 + share) * lengthM }
    const at = {
      wallBehind: { xM: along.xM, zM: offWallM },
      wallOpposite: { xM: along.xM, zM: lengthM - offWallM },
      wallLeft: { xM: -widthM / 2 + offWallM, zM: along.zM },
      wallRight: { xM: widthM / 2 - offWallM, zM: along.zM },
    }[side]
    return { id: `wall${index}`, ...at, earM: heightM / 2 }
  })
}

function roofSpots({ surroundings }: NeighbourQuestion): ListenedPlace[] {
  if (surroundings.kind !== 'hall') return []
  const { lengthM, widthM, heightM } = surroundings.design
  return shares.map((share, index) => ({
    id: `roof${index}`,
    xM: (share * widthM) / 2,
    zM: (0.5 + share) * lengthM,
    earM: Math.max(heightM - offWallM, heightM / 2),
  }))
}
