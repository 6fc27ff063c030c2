import { scale, squaredMagnitude } from '../../../acoustics/complex.ts'
import { crowdPath, leftByCrowd } from '../../../acoustics/field/crowd.ts'
import { driveOf } from '../../../acoustics/field/pressure-from.ts'
import type { PlacedSource, Point } from '../../../acoustics/index.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { addDriven, type CabinetSound } from './cabinet-sound.ts'
import { pressureOf } from './plan-arrivals.ts'
import { cabinetSources, driveIn } from './plan-boxes.ts'
import type { PlanScene } from './plan-scene.ts'
import type { CrowdTaken, PlanQuestion } from './plan-terms.ts'

// What people who stand before the boxes take from the direct sound of a plan.

/** Takes from what sources send to a place of a hall what the crowd takes from their direct sound. */
export function takeCrowd(sound: CabinetSound, { lines, hall }: PlanScene, source: PlacedSource, point: Point) {
  const path = crowdPath(source, point, earHeightM)
  if (path.lossDb === 0) return
  for (const [line, frequencyHz] of lines.hz.entries()) {
    const { direct } = leftByCrowd(path, frequencyHz)
    if (direct === 1) continue
    const { re, im } = scale(pressureOf(source, source.radiation(frequencyHz), point), direct - 1)
    const drive = driveOf(source, frequencyHz)
    const share = hall?.statistical[line] ?? 0
    if (share < 1) addDriven(sound.re, sound.im, re, im, drive, line)
    if (share > 0) addDriven(sound.earlyRe, sound.earlyIm, re, im, drive, line)
  }
}

/** Where treble is asked after, to tell which box sends it, Hz. */
const trebleHz = 2000

/** What the crowd takes at a place from the box whose treble is the strongest there; undefined where it takes nothing. */
export function crowdTaken(question: PlanQuestion, point: Point): CrowdTaken | undefined {
  const all = question.cabinets.flatMap((cabinet) =>
    cabinetSources(question, cabinet).map((source) => ({
      box: cabinet.id,
      source,
      square: driveIn(cabinet).gain ** 2 * squaredMagnitude(pressureOf(source, source.radiation(trebleHz), point)),
    })),
  )
  const strongest = all.reduce((best, each) => (each.square > best.square ? each : best))
  const { elevationDeg, lossDb, raiseM } = crowdPath(strongest.source, point, earHeightM)
  return lossDb > 0 ? { box: strongest.box, elevationDeg, lossDb, raiseM } : undefined
}
