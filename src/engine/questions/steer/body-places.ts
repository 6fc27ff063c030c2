import { type GroupBox, type Point, solveCabinetGroup } from '../../../acoustics/index.ts'
import { makeRoom } from '../../../acoustics/make-room.ts'
import { solvedRevision } from '../../scene/solved-gear.ts'
import { setBodies, stackBodies } from './steer-bodies.ts'
import { drivenSquares, inStep, type SteerStage } from './steer-stage.ts'
import type { SheetLine, SteerQuestion, SteerShow } from './steer-terms.ts'

/** By box, or the stack as a whole: complex pressure by place, for unit drive. */
type PlacePressures = { re: Float64Array; im: Float64Array }[]

/** Pressures at many places under unit drive, so that delays, levels and polarities are only sums over them. */
const solved = new Map<string, PlacePressures>()
const keptPlaces = 12

/**
 * Mean squares at many places at one frequency, of the set as it plays or of the stack, each solved as one body on a hard floor.
 *
 * @param wallZM  z of a hard wall behind, m; null without one
 * @param places  0 comes back for those in a box
 * @param name    a name of the places, by which the pressures are kept
 * @throws RangeError as solveCabinetGroup
 */
export function bodySquares(
  question: Pick<SteerQuestion, 'rig' | 'set'>,
  { size, scene: { air } }: Pick<SteerStage, 'size' | 'scene'>,
  wallZM: number | null,
  show: SteerShow,
  sheet: readonly SheetLine[],
  places: readonly Point[],
  name: string,
  frequencyHz: number,
): Float64Array {
  const bodies = show === 'set' ? setBodies(question, size) : stackBodies(question, size)
  const { temperatureC, relativeHumidityPct } = air
  const key = JSON.stringify([
    name,
    wallZM,
    frequencyHz,
    temperatureC,
    relativeHumidityPct,
    solvedRevision(),
    show,
    bodies,
  ])
  let pressures = solved.get(key)
  if (!pressures) {
    const inStep = show === 'stacked'
    const group = solveCabinetGroup(bodies, 'hard-floor', frequencyHz, air, {
      inStep,
      ...(wallZM !== null && { wallZM }),
    })
    pressures = Array.from({ length: inStep ? 1 : bodies.length }, () => ({
      re: new Float64Array(places.length),
      im: new Float64Array(places.length),
    }))
    for (const [index, place] of places.entries()) {
      if (bodies.some((body) => isWithin(place, body))) continue
      for (const [box, { re, im }] of group.pressuresAt(place).entries()) {
        const to = pressures[box] as PlacePressures[number]
        to.re[index] = re
        to.im[index] = im
      }
    }
    makeRoom(solved, keptPlaces)
    solved.set(key, pressures)
  }
  return drivenSquares(pressures, show === 'set' ? sheet : inStep, frequencyHz)
}

const isWithin = (
  { xM, yM, zM }: Point,
  { cabinet: { widthM, heightM, depthM }, position, turned }: GroupBox,
): boolean => {
  const inwardM = turned ? zM - position.zM : position.zM - zM
  return (
    Math.abs(xM - position.xM) <= widthM / 2 &&
    Math.abs(yM - position.yM) <= heightM / 2 &&
    inwardM >= 0 &&
    inwardM <= depthM
  )
}
