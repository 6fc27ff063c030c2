import {
  type Air,
  addRearPort,
  type Band,
  type Complex,
  divide,
  energyAverageDb,
  holeOnFront,
  levelDb,
  magnitude,
  monopole,
  onAxisFarField,
  type Radiation,
  rearPortFlow,
  type SolvedCabinet,
  solveDriverSets,
  sphereCabinet,
  squaredMagnitude,
  summedRadiation,
  type Way,
  wayResponse,
  withRearPort,
} from '../../../acoustics/index.ts'
import { airOf } from '../../scene/air.ts'
import { solvedModel, solvedRangeHz } from '../../scene/solved-gear.ts'
import {
  type BoxModel,
  boxAnglesDeg,
  type OwnBox,
  type OwnBoxBand,
  type OwnBoxQuestion,
  ownBoxBands,
} from './own-box-terms.ts'

/** A way this far under the loudest one at a frequency is not solved: it moves the sum by less than 0.1 dB in front. */
const silentShare = 0.01

/** Levels below this re the front are drawn and told as this: a null between lobes, not a number. */
const lowestDb = -60

/**
 * One band of a box, far field, free air. Ways are voiced as makers do: each flat and in step on the axis.
 *
 * @throws RangeError for a box that is not sound, or a nominal frequency that is no band of ownBoxBands
 */
export function ownBoxBand({ box, nominalHz, solved, air: state }: OwnBoxQuestion): OwnBoxBand {
  const air = airOf(state)
  const band = ownBoxBands.find((known) => known.nominalHz === nominalHz)
  if (!band) {
    const allowed = ownBoxBands.map((known) => known.nominalHz).join(', ')
    throw new RangeError(`nominalHz is ${nominalHz}; allowed is one of ${allowed} Hz`)
  }
  const sounding = soundingWays(box.ways, band.centreHz)
  const ways = sounding.map(({ way }) => way)
  const solutions = radiationsOf(outerSize(box), ways, band.centreHz, solved, air)
  return bandOf(box, band, air, sounding, solutions)
}

/** What a band comes to, once it is known how its ways radiate. */
function bandOf(box: OwnBox, band: Band, air: Air, sounding: SoundingWay[], solutions: Solution[]): OwnBoxBand {
  const { nominalHz, centreHz: frequencyHz } = band
  const ways = sounding.map(({ response }, index) => {
    const solution = solutions[index] as Solution
    return { response, solution, onAxis: onAxisFarField(solution.radiation, air) }
  })
  const single = ways.length === 1 ? ways[0]?.solution.radiation : undefined
  const radiation =
    single ??
    summedRadiation(
      ways.map(({ solution, response, onAxis }) => ({
        radiation: solution.radiation,
        weight: divide(response, onAxis),
      })),
      Math.hypot(box.widthM, box.heightM, box.depthM),
      air,
    )
  const atDeg = (angleDeg: number) => Math.max(lowestDb, radiation.farFieldDb((angleDeg * Math.PI) / 180, 0))
  const roundDb = boxAnglesDeg.map(atDeg)
  const freeOnAxis = magnitude(onAxisFarField(monopole(frequencyHz, air), air))
  let gain = 0
  let total = 0
  for (const { response, onAxis, solution } of ways) {
    const share = squaredMagnitude(response)
    gain += (share * (magnitude(onAxis) / freeOnAxis) ** 2) / solution.flowSquared
    total += share
  }
  return {
    nominalHz,
    model: ways.some(({ solution }) => solution.model === 'high-frequency')
      ? 'high-frequency'
      : (ways[0]?.solution.model ?? 'closed-form'),
    frontGainDb: levelDb(gain / total),
    sideDb: energyAverageDb([atDeg(-90), atDeg(90)]),
    rearDb: atDeg(180),
    roundDb,
    directivityIndexDb: radiation.directivityIndexDb,
    estimatedErrorDb: mostOf(ways.map(({ solution }) => solution.estimatedErrorDb)),
    unknowns: Math.max(...ways.map(({ solution }) => solution.unknowns)),
  }
}

/**
 * All bands at once from what has been solved of the box so far (see addSolvedCabinet); by the closed form where that does not
 * reach yet. Above the last solved line the levels all round are an estimate. Errors as ownBoxBand.
 */
export function ownBoxKnown({ box, air: state }: Pick<OwnBoxQuestion, 'box' | 'air'>): { bands: OwnBoxBand[] } {
  const air = airOf(state)
  const bands = ownBoxBands.map((band) => {
    const sounding = soundingWays(box.ways, band.centreHz)
    const known = sounding.map(({ way }) => knownSolution(outerSize(box), way, band.centreHz, air))
    const all = known.flatMap((solution) => solution ?? [])
    if (all.length < known.length) return ownBoxBand({ box, nominalHz: band.nominalHz, solved: false, air: state })
    return bandOf(box, band, air, sounding, all)
  })
  return { bands }
}

/** How a way radiates at a frequency, its port included, if both have been solved there. */
function knownSolution(
  size: ReturnType<typeof outerSize>,
  { drivers, port }: Way,
  frequencyHz: number,
  air: Air,
): Solution | undefined {
  const cabinet = { ...size, drivers }
  const { fromHz, toHz, estimateToHz } = solvedRangeHz(cabinet, air)
  if (frequencyHz < fromHz || frequencyHz > Math.max(toHz, estimateToHz)) return undefined
  const flowSquared = port ? squaredMagnitude(rearPortFlow(cabinet, port, frequencyHz, air)) : 0
  if (port && flowSquared > 0) {
    const hole = solvedRangeHz(holeOnFront(cabinet, port), air)
    if (frequencyHz < hole.fromHz || frequencyHz > hole.toHz) return undefined
  }
  return {
    radiation: port
      ? withRearPort(solvedModel, cabinet, port, frequencyHz, air)
      : solvedModel(cabinet, frequencyHz, air),
    model: frequencyHz <= toHz ? 'boundary-elements' : 'high-frequency',
    estimatedErrorDb: null,
    unknowns: 0,
    flowSquared: 1 + flowSquared,
  }
}

/** `flowSquared`: of the drivers (1) and their port, the squared volume velocities together. */
type Solution = {
  radiation: Radiation
  model: BoxModel
  estimatedErrorDb: number | null
  unknowns: number
  flowSquared: number
}
type SoundingWay = { way: Way; response: Complex }

/** The largest of some numbers; null where one is not known. */
const mostOf = (values: (number | null)[]): number | null =>
  values.reduce((most, value) => (most === null || value === null ? null : Math.max(most, value)))

function radiationsOf(
  size: ReturnType<typeof outerSize>,
  ways: Way[],
  frequencyHz: number,
  solved: boolean,
  air: Air,
): Solution[] {
  const boxes = ways.map(({ drivers, port }) => {
    const cabinet = { ...size, drivers }
    return { cabinet, port, flow: port ? rearPortFlow(cabinet, port, frequencyHz, air) : { re: 0, im: 0 } }
  })
  const flowsSquared = boxes.map(({ flow }) => 1 + squaredMagnitude(flow))
  if (!solved) {
    return boxes.map(({ cabinet, port }, index) => ({
      radiation: port
        ? withRearPort(sphereCabinet, cabinet, port, frequencyHz, air)
        : sphereCabinet(cabinet, frequencyHz, air),
      model: 'closed-form',
      estimatedErrorDb: null,
      unknowns: 0,
      flowSquared: flowsSquared[index] as number,
    }))
  }
  const sounding = boxes.filter(({ flow }) => squaredMagnitude(flow) > 0)
  // Holes go along with the drivers: what is known of the box is worked out once for all.
  const holes = sounding.map(({ cabinet, port }) => (port ? holeOnFront(cabinet, port).drivers : []))
  const answers = solveDriverSets(size, [...ways.map(({ drivers }) => drivers), ...holes], frequencyHz, air)
  return boxes.map((box, index) => {
    const cones = answers[index] as SolvedCabinet
    const hole = sounding.includes(box) ? answers[ways.length + sounding.indexOf(box)] : undefined
    const { method, estimatedErrorDb, unknowns } = cones
    return {
      radiation: hole ? addRearPort(cones, hole, box.flow, size, air) : cones,
      model: method,
      estimatedErrorDb,
      unknowns,
      flowSquared: flowsSquared[index] as number,
    }
  })
}

function soundingWays(ways: Way[], frequencyHz: number): SoundingWay[] {
  const all = ways.map((way) => ({ way, response: wayResponse(way, frequencyHz) }))
  const loudest = Math.max(...all.map(({ response }) => magnitude(response)))
  return all.filter(({ response }) => magnitude(response) >= silentShare * loudest)
}

const outerSize = ({ widthM, heightM, depthM }: OwnBox) => ({ widthM, heightM, depthM })
