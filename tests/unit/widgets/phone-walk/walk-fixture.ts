import type { HeardPlace } from '../../../../src/engine/questions/phone-walk/phone-terms.ts'
import { heardBands } from '../../../../src/engine/scene/third-octaves.ts'
import type { KeptWalk } from '../../../../src/widgets/phone-walk/kept-walks.ts'

/** A place that heard one level in every band. */
export const heardAt = (levelDb: number): HeardPlace => ({
  levels: heardBands.map((_, band) => (band === 0 ? null : { levelDb, errorDb: 0.2, freedom: 20 })),
  durationS: 9.6,
  keptS: 8.2,
  clippedSamples: 0,
  crestDb: 12.4,
})

/** A walk of two places, held again in front between them. */
export const aWalk = (key = 'walk-1', begun = '2026-05-01T18:00:00.000Z'): KeptWalk => ({
  key,
  name: 'soundcheck',
  begun,
  isPractice: false,
  isProcessed: false,
  frontM: 2.5,
  quiet: heardAt(-80),
  fronts: [heardAt(-30), heardAt(-29)],
  places: [
    { key: 'place-1', name: 'behind the bar', heard: heardAt(-36), front: 0, distanceM: 4, angleDeg: 150 },
    { key: 'place-2', name: 'door, left', heard: heardAt(-40), front: 1, distanceM: null, angleDeg: null },
  ],
})
