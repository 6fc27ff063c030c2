import { makeRoom } from '../make-room.ts'
import { type Air, requireAir } from '../medium/air.ts'
import { requireInRange } from '../numeric-range.ts'
import type { Point } from '../point.ts'
import { autoPoints } from './boundary-element-ceiling.ts'
import { requireOutsideBox } from './boundary-elements/require-outside-box.ts'
import { boxPressureAt, boxSolutions } from './box-surface/box-solution.ts'
import { ceilingForPointsHz, usualPointsPerWavelength } from './box-surface/point-count.ts'
import { type BoxSize, type Cabinet, checkCabinet, type Driver } from './cabinet.ts'
import { expansionRadiation } from './expansion-radiation.ts'
import { highFrequencyLimitHz, highFrequencyRadiation } from './high-frequency-radiation.ts'
import { type OutgoingExpansion, outgoingExpansions } from './outgoing-expansion.ts'
import type { Radiation } from './radiation.ts'
import { frequencyRange } from './radiation-input.ts'

/** How the sound of a cabinet was found. */
export type SolveMethod = 'boundary-elements' | 'high-frequency'

export type SolveOptions = {
  /** About so many points on a wavelength where the wave decides, and in step with it elsewhere; 3 … 40, default 8. */
  elementsPerWavelength?: number
  /** 'auto' (default): boundary elements up to boundaryElementCeilingHz, the high-frequency model above. */
  method?: 'auto' | SolveMethod
}

/** Radiation of a solved cabinet. */
export type SolvedCabinet = Radiation & {
  /** Points on the whole surface of the box; for the high-frequency model those of its anchor. */
  unknowns: number
  /**
   * Likely greatest error of the levels within 20 dB of the loudest direction, dB: from a second, coarser mesh, which is solved
   * when this is first read, or for the high-frequency model the correction that it needed at the hand-over.
   */
  estimatedErrorDb: number
  method: SolveMethod
  /** Whether the level behind the box is an estimate, a few dB off (the high-frequency model). */
  rearIsEstimate: boolean
  /** By boundary elements: the same sound outside a sphere round the box, as plain data for expansionRadiation. */
  expansion?: OutgoingExpansion
}

/** Points on an eighth of the box up to which boundary elements can be asked for: six seconds’ work, 280 MB. */
const mostPoints = 1000

/** Hand-over solutions that are kept: every frequency above the ceiling needs the one of its cabinet. */
const keptAnchors = 16
const anchors = new Map<string, SolvedCabinet>()

/**
 * Sound of a rigid box with drivers on its front face in free space, per unit total volume velocity (see
 * driverApertures for gains and horns).
 *
 * - Boundary elements (see boxSolution) up to boundaryElementCeilingHz: on each quarter of a face one smooth polynomial of high
 *   order. Pressure from the outgoing expansion outside its sphere, from the surface integral between sphere and box.
 * - Above, the high-frequency model (see highFrequencyRadiation), anchored to boundary elements at the ceiling and equal to
 *   them there. Asked for below the ceiling it stands alone, without anchor. Its rear is an estimate.
 *
 * The first call above the ceiling solves the anchor, less than a second; the last 16 cabinets' anchors are kept.
 *
 * @param cabinet      see checkCabinet
 * @param frequencyHz  1e-6 Hz up to highFrequencyLimitHz (ka = 120 of the largest driver); for boundary elements as high as
 *                     1000 points on an eighth of the box allow
 * @param air          the medium
 * @param options      see SolveOptions
 * @returns            SolvedCabinet; pressureAt throws RangeError inside the box
 * @throws RangeError  for arguments outside these ranges
 * Accuracy: boundary elements with the default mesh, boxes of 0.1 to 1.2 m against finer meshes, in any direction down to 40 dB
 *         under the loudest: 0.03 dB to 500 Hz, 0.1 dB to 2 kHz. A cube of 0.6 m at 1 kHz: 0.05 dB down to 30 dB, 0.2 dB at 40 dB.
 *         A tweeter 8 mm from an edge: 0.1 dB at 500 Hz, 0.25 dB at 2 kHz. Against an independent code as far as that one goes.
 */
export function solveCabinet(
  cabinet: Cabinet,
  frequencyHz: number,
  air: Air,
  options: SolveOptions = {},
): SolvedCabinet {
  return solveDriverSets(cabinet, [cabinet.drivers], frequencyHz, air, options)[0] as SolvedCabinet
}

/**
 * One box with several sets of drivers, each sounding alone, as the ways of a cabinet: what is known of the box is worked
 * out once, so that a second set costs little beside the first. Each answer is the one that solveCabinet gives for that set,
 * to the last bit.
 *
 * @param box          outer sizes, m; see checkCabinet
 * @param driverSets   at least one; each with the box has to be a sound cabinet
 * @param frequencyHz  as for solveCabinet, for every set
 * @param air          the medium
 * @param options      see SolveOptions
 * @throws RangeError  for arguments outside these ranges
 * Accuracy: that of solveCabinet.
 */
export function solveDriverSets(
  box: BoxSize,
  driverSets: readonly Driver[][],
  frequencyHz: number,
  air: Air,
  options: SolveOptions = {},
): SolvedCabinet[] {
  const { widthM, heightM, depthM } = box
  const cabinets = driverSets.map((drivers) => checkCabinet({ widthM, heightM, depthM, drivers }))
  requireInRange('driverSets.length', cabinets.length, { min: 1, max: 64, integer: true })
  requireInRange('frequencyHz', frequencyHz, frequencyRange)
  requireAir(air)
  const { method = 'auto', elementsPerWavelength = usualPointsPerWavelength } = options
  requireInRange('options.elementsPerWavelength', elementsPerWavelength, { min: 3, max: 40 })
  const ceilingHz = ceilingForPointsHz(box, air, usualPointsPerWavelength, autoPoints)
  switch (method) {
    case 'auto':
      return frequencyHz <= ceilingHz
        ? solveByBoundaryElements(cabinets, frequencyHz, air, elementsPerWavelength)
        : solveByEdges(cabinets, frequencyHz, air, ceilingHz)
    case 'boundary-elements':
      return solveByBoundaryElements(cabinets, frequencyHz, air, elementsPerWavelength)
    case 'high-frequency':
      return solveByEdges(cabinets, frequencyHz, air, ceilingHz)
    default:
      throw new RangeError(
        `options.method is ${String(method)}; allowed is 'auto', 'boundary-elements' or 'high-frequency'`,
      )
  }
}

function solveByEdges(cabinets: readonly Cabinet[], frequencyHz: number, air: Air, ceilingHz: number): SolvedCabinet[] {
  for (const cabinet of cabinets) {
    const limitHz = highFrequencyLimitHz(cabinet, air)
    requireInRange('frequencyHz', frequencyHz, { max: Math.max(limitHz, ceilingHz), unit: 'Hz' })
  }
  const anchorOf = frequencyHz > ceilingHz ? anchorsAt(cabinets, ceilingHz, air) : undefined
  return cabinets.map((cabinet) => {
    const anchor = anchorOf?.get(cabinet)
    const radiation = highFrequencyRadiation(cabinet, frequencyHz, air, anchor)
    const { pressureAt, farFieldDb, estimatedErrorDb, rearIsEstimate } = radiation
    return {
      frequencyHz,
      pressureAt,
      farFieldDb,
      estimatedErrorDb,
      rearIsEstimate,
      // Power takes longest; it is worked out only for those who read it.
      get powerW() {
        return radiation.powerW
      },
      get directivityIndexDb() {
        return radiation.directivityIndexDb
      },
      unknowns: anchor?.unknowns ?? 0,
      method: 'high-frequency',
    }
  })
}

/** The hand-over solutions of cabinets that differ in their drivers alone; those that are not kept yet are solved together. */
function anchorsAt(cabinets: readonly Cabinet[], ceilingHz: number, air: Air): Map<Cabinet, SolvedCabinet> {
  const keyOf = ({ widthM, heightM, depthM, drivers }: Cabinet) =>
    JSON.stringify([widthM, heightM, depthM, drivers, air.speedOfSoundMps, air.densityKgM3])
  const found = new Map<Cabinet, SolvedCabinet>()
  for (const cabinet of cabinets) {
    const known = anchors.get(keyOf(cabinet))
    if (known) found.set(cabinet, known)
  }
  const missing = cabinets.filter((cabinet) => !found.has(cabinet))
  if (missing.length === 0) return found
  // Copies, so that a caller who changes a cabinet later does not change what is kept.
  const solved = solveByBoundaryElements(structuredClone(missing), ceilingHz, air, usualPointsPerWavelength)
  for (const [index, cabinet] of missing.entries()) {
    const anchor = solved[index] as SolvedCabinet
    found.set(cabinet, anchor)
    makeRoom(anchors, keptAnchors)
    anchors.set(keyOf(cabinet), anchor)
  }
  return found
}

function solveByBoundaryElements(
  cabinets: readonly Cabinet[],
  frequencyHz: number,
  air: Air,
  pointsPerWavelength: number,
): SolvedCabinet[] {
  const box = cabinets[0] as Cabinet
  const highestHz = ceilingForPointsHz(box, air, pointsPerWavelength, mostPoints)
  if (frequencyHz > highestHz) {
    throw new RangeError(
      `frequencyHz is ${frequencyHz}; allowed for this cabinet with boundary elements is at most ${Math.floor(highestHz)} Hz`,
    )
  }
  const sets = cabinets.map(({ drivers }) => drivers)
  const solutions = boxSolutions(box, sets, frequencyHz, air, pointsPerWavelength)
  const expansions = outgoingExpansions(solutions)
  const coarse = onceAsked(() => {
    const coarseSolutions = boxSolutions(box, sets, frequencyHz, air, pointsPerWavelength * coarseShare)
    return outgoingExpansions(coarseSolutions).map((expansion) => expansionRadiation(expansion, air))
  })
  return solutions.map((solution, set): SolvedCabinet => {
    const expansion = expansions[set] as OutgoingExpansion
    const outside = expansionRadiation(expansion, air)
    const errorDb = onceAsked(() => meshErrorDb(box, outside, coarse()[set] as Radiation))
    return {
      ...outside,
      pressureAt(point: Point) {
        const { xM, yM, zM } = point
        if (Math.hypot(xM, yM, zM - expansion.centreZM) >= expansion.radiusM) return outside.pressureAt(point)
        requireOutsideBox(solution.cabinet, point)
        return boxPressureAt(solution, point)
      },
      unknowns: solution.unknowns,
      get estimatedErrorDb() {
        return errorDb()
      },
      method: 'boundary-elements',
      rearIsEstimate: false,
      expansion,
    }
  })
}

/** A value that is worked out when it is first asked for. */
function onceAsked<T>(make: () => T): () => T {
  let made: { value: T } | undefined
  return () => {
    made ??= { value: make() }
    return made.value
  }
}

/** Points on a wavelength of the second, coarser mesh, as a share: about a fifth fewer along each edge. */
const coarseShare = 0.64

/** Directions farther below the loudest than this, dB, do not count in the error estimate: near a null any error is large. */
const comparedDb = 20

/**
 * Error of the levels from a second, coarser mesh: their greatest difference over 42 directions. With polynomials of high order
 * nearly all of it is the error of the coarser mesh, so that it is more than that of the finer one.
 */
function meshErrorDb(box: BoxSize, fine: Radiation, coarse: Radiation): number {
  const distanceM = 1000 * (box.widthM + box.heightM + box.depthM)
  const levels: [number, number][] = []
  for (let vertical = -1; vertical <= 1; vertical++) {
    for (let i = 0; i < 14; i++) {
      const horizontalRad = (2 * Math.PI * i) / 14
      const verticalRad = (vertical * Math.PI) / 4
      const point = {
        xM: distanceM * Math.sin(horizontalRad) * Math.cos(verticalRad),
        yM: distanceM * Math.sin(verticalRad),
        zM: distanceM * Math.cos(horizontalRad) * Math.cos(verticalRad),
      }
      const [a, b] = [fine.pressureAt(point), coarse.pressureAt(point)]
      levels.push([20 * Math.log10(Math.hypot(a.re, a.im)), 20 * Math.log10(Math.hypot(b.re, b.im))])
    }
  }
  const loudest = Math.max(...levels.map(([level]) => level))
  const differences = levels.filter(([level]) => level > loudest - comparedDb).map(([a, b]) => Math.abs(a - b))
  return Math.max(...differences)
}
