import { type Point, solveCabinetGroup } from '../../../src/acoustics/index.ts'
import { air, db, rig } from './plain-rig.ts'
import { c } from './route.ts'

// Subs on hard ground once more: the boxes solved as one body at every line there is, plain complex sums over them.

const found = rig.cabinets.find(({ name }) => name === 'sub')
const drivers = found?.ways[0]?.drivers
if (!found || !drivers) throw new Error('the rig has no sub')
export const size = { widthM: found.widthM, heightM: found.heightM, depthM: found.depthM }
const cabinet = { ...size, drivers }

/** A box by the middle of its front face on the plan and its height; turned, it looks to the rear. */
export type Box = { xM: number; yM?: number; zM: number; turned?: boolean; delayS?: number; sign?: 1 | -1; dB?: number }
export type Case = { wallZM?: number; point?: boolean }

const linesHz = Array.from({ length: 73 }, (_, i) => 25 * 2 ** (i / 24))
export const linesIn = (lowHz: number, highHz: number) =>
  linesHz.filter((hz) => hz >= lowHz * 0.9999999 && hz <= highHz * 1.0000001)
/** Lines of a nominal third octave. */
export const bandLines = (nominalHz: number) => {
  const centreHz = 10 ** (Math.round(10 * Math.log10(nominalHz)) / 10)
  return linesIn(centreHz * 10 ** -0.05, centreHz * 10 ** 0.05)
}

const groups = new Map<string, ReturnType<typeof solveCabinetGroup>>()
/** The boxes as one body; all in step have one solution. */
function groupOf(boxes: Box[], hz: number, wallZM: number | undefined) {
  const bodies = boxes.map(({ xM, yM = size.heightM / 2, zM, turned = false }) => ({
    cabinet,
    position: { xM, yM, zM },
    turned,
  }))
  const options = { ...(wallZM !== undefined && { wallZM }), inStep: boxes.every(isAtUnit) }
  const key = JSON.stringify([bodies.map(({ position, turned }) => [position, turned]), hz, options])
  let known = groups.get(key)
  if (!known) {
    known = solveCabinetGroup(bodies, 'hard-floor', hz, air, options)
    groups.set(key, known)
  }
  return known
}
const isAtUnit = ({ delayS = 0, sign = 1, dB = 0 }: Box) => delayS === 0 && sign === 1 && dB === 0

function fromPoint(hz: number, r: number) {
  const [size, phase] = [1 / r, (-2 * Math.PI * hz * r) / c]
  return { re: size * Math.cos(phase), im: size * Math.sin(phase) }
}

/** Complex pressure of points on the ground at a place, any unit: they shade nothing. */
function ofPoints(boxes: Box[], { xM, yM, zM }: Point, hz: number): { re: number; im: number }[] {
  return boxes.map((box) => fromPoint(hz, Math.hypot(xM - box.xM, yM, zM - box.zM)))
}

/** Complex pressure of the boxes at a place, any unit. */
export function pressureAt(
  boxes: Box[],
  place: Point,
  hz: number,
  { wallZM, point }: Case,
): { re: number; im: number } {
  const parts = point ? ofPoints(boxes, place, hz) : groupOf(boxes, hz, wallZM).pressuresAt(place)
  let [re, im] = [0, 0]
  for (const [index, p] of parts.entries()) {
    const box = boxes[index] as Box
    const gain = (box.sign ?? 1) * 10 ** ((box.dB ?? 0) / 20)
    const phase = -2 * Math.PI * hz * (box.delayS ?? 0)
    re += gain * (p.re * Math.cos(phase) - p.im * Math.sin(phase))
    im += gain * (p.re * Math.sin(phase) + p.im * Math.cos(phase))
  }
  return { re, im }
}

/** Five ears in a row 2 m wide, 1.6 m above the ground. */
export const row = (xM: number, zM: number): Point[] =>
  [-1, -0.5, 0, 0.5, 1].map((off) => ({ xM: xM + off, yM: 1.6, zM }))

const square = (boxes: Box[], spots: Point[], hz: number, at: Case) =>
  spots.reduce((sum, spot) => {
    const { re, im } = pressureAt(boxes, spot, hz, at)
    return sum + re * re + im * im
  }, 0) / spots.length

export const stackOf = (count: number, point = false): Box[] => {
  const columns = Math.ceil(count / 2)
  return Array.from({ length: count }, (_, i) => ({
    xM: point ? 0 : (Math.floor(i / 2) - (columns - 1) / 2) * size.widthM,
    yM: size.heightM * (0.5 + (i % 2)),
    zM: 0,
  }))
}

export type Merits = { rejection: number; loss: number; cut: number; stackBehindDb: number }

/** Figures of merit by their definitions: energies over the lines, each re the stack in front on open ground. */
export function merits(
  boxes: Box[],
  lines: number[],
  places: { front?: Point[]; behind?: Point[] } = {},
  at: Case = {},
): Merits {
  const front = places.front ?? row(0, 5)
  const behind = places.behind ?? row(0, -4)
  const stack = stackOf(boxes.length, at.point)
  const open = { point: at.point ?? false }
  const sums = { front: 0, behind: 0, stackFront: 0, stackBehind: 0 }
  for (const hz of lines) {
    const reference = square(stack, front, hz, open)
    sums.front += square(boxes, front, hz, at) / reference
    sums.behind += square(boxes, behind, hz, at) / reference
    sums.stackFront += square(stack, front, hz, at) / reference
    sums.stackBehind += square(stack, behind, hz, at) / reference
  }
  const inverse = (spots: Point[]) => spots.reduce((sum, { xM, yM, zM }) => sum + 1 / (xM * xM + yM * yM + zM * zM), 0)
  return {
    rejection: db(sums.front / sums.behind) - db(inverse(front) / inverse(behind)),
    loss: db(sums.stackFront / sums.front),
    cut: db(sums.stackBehind / sums.behind),
    stackBehindDb: db(sums.stackBehind / lines.length),
  }
}

/** The widest run of lines with 6 dB of rejection or more for 3 dB of front loss or less, Hz. */
export function usable(boxes: Box[], behind?: Point[]): { from: number; to: number } {
  let best = { from: 0, to: 0, length: 0 }
  let run: number[] = []
  for (const hz of [...linesHz, Number.NaN]) {
    const good = Number.isFinite(hz) && isUsable(merits(boxes, [hz], behind ? { behind } : {}))
    if (good) run.push(hz)
    else {
      if (run.length > best.length) best = { from: run[0] as number, to: run.at(-1) as number, length: run.length }
      run = []
    }
  }
  return best
}
const isUsable = ({ rejection, loss }: Merits) => rejection >= 6 && loss <= 3
