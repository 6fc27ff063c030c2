import { groupLevelDb, impulseLevelsDb, type Rig, writeWav } from '../../../acoustics/index.ts'
import { airOf, type InAir } from '../../scene/air.ts'
import type { HallDesign } from '../../scene/hall-scene.ts'
import { placeResponses } from '../../scene/place-responses.ts'
import { earHeightM } from '../../scene/scene-terms.ts'
import { standingRig } from '../../scene/standing-rig.ts'
import { heardBands, trebleHz } from '../../scene/third-octaves.ts'
import { practiceTake } from './practice.ts'
import { practiceDistanceM } from './practice-terms.ts'

/** What is true of a practice recording of sweeps: front less behind in the treble, dB, and the recorder's clock against the player's, ppm. */
export type PracticeSweepTruth = { boxTrebleDb: number; wholeTrebleDb: number; driftPpm: number }

/** Both microphones' recording of the sweeps in a hall as a stereo WAV file, front on the left. */
export type PracticeSweepFile = { wav: Uint8Array<ArrayBuffer>; truth: PracticeSweepTruth }

/**
 * A practice recording of the sweeps, made from the model.
 *
 * @throws RangeError  as practiceTake
 */
export function practiceSweepFile(question: InAir & { seed: number; rig: Rig; hall: HallDesign }): PracticeSweepFile {
  const { seed, rig, hall, air } = question
  const { sampleRateHz, front, behind, truth } = practiceTake('sound', seed, {
    rig,
    surroundings: { kind: 'hall', design: hall },
    signal: 'sweep',
    ...(air && { air }),
  })
  const treble = (levels: readonly number[]) => groupLevelDb(levels, heardBands, trebleHz.from, trebleHz.to)
  const { arrivingDb, driftPpm } = truth
  return {
    wav: writeWav({ sampleRateHz, channels: [front, behind] }),
    truth: {
      boxTrebleDb: boxDifferenceDb(rig, air, sampleRateHz, treble),
      wholeTrebleDb: treble(arrivingDb.front) - treble(arrivingDb.behind),
      driftPpm,
    },
  }
}

/** Front less behind of the same rig in free air. */
function boxDifferenceDb(
  rig: Rig,
  air: InAir['air'],
  sampleRateHz: number,
  group: (levels: readonly number[]) => number,
): number {
  const at = (zM: number) => ({ xM: 0, yM: earHeightM, zM })
  const standing = standingRig(rig, { kind: 'outdoors' }, airOf(air))
  const places = { here: at(-practiceDistanceM), front: at(practiceDistanceM) }
  const { here, front } = placeResponses(standing, places, { sampleRateHz, length: 16384 })
  const [inFront, there] = [front, here].map((response) =>
    group([...impulseLevelsDb(response, sampleRateHz, heardBands)]),
  )
  return (inFront as number) - (there as number)
}
