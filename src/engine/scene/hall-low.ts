import {
  type HallResponseSpec,
  hallField,
  hallFieldResponse,
  multiply,
  type PlanPoint,
  statisticalShare,
} from '../../acoustics/index.ts'
import type { HallRig } from './hall-rig.ts'
import { earHeightM } from './scene-terms.ts'
import { heardBands } from './third-octaves.ts'

/** No rig sends anything to speak of below the first of these; from the second, the lowest band heard, on the sum is whole, Hz. */
const fadeInHz = { from: 14, to: heardBands[0]?.lowerHz ?? 22.4 }

/** The rigs whose fields are kept: two halls can be heard against each other, and each takes some tens of megabytes. */
let heardRigs: HallRig[] = []

function keepFields(heard: HallRig): void {
  const others = heardRigs.filter((each) => each !== heard)
  for (const old of others.slice(1)) old.fields.clear()
  heardRigs = [heard, ...others.slice(0, 1)]
}

/** Highest join of images and statistics in a response, Hz: every line up to it is summed, and a small hard hall has thousands. */
const highestJoinHz = 160

/** Where images and statistics join in a response: as in the levels, unless that is too high up; the level correction makes good for it. */
export const heardJoinHz = ({ joiningHz }: { joiningHz: number }): number => Math.min(joiningHz, highestJoinHz)

/** What of the sum of images is heard at a frequency, as a factor of the pressure: √ of the share that the levels take of it. */
export const imagesShare = (frequencyHz: number, joiningHz: number): number =>
  Math.sqrt(1 - statisticalShare(frequencyHz, joiningHz))

/**
 * All images with all resonances, as far up as the levels have them. The fields are kept for the next place.
 *
 * @param spec  as in hallFieldResponse, without its frequencies
 */
export function lowResponse(
  rig: HallRig,
  place: PlanPoint,
  gain: number,
  spec: Omit<HallResponseSpec, 'fromHz' | 'toHz'>,
): Float32Array {
  const { air, hall, sources, levels, fields } = rig
  keepFields(rig)
  const listener = rig.toHall({ ...place, yM: earHeightM })
  const joinHz = heardJoinHz(levels)
  const fieldAt = (frequencyHz: number, dampingPerM: number) => {
    const key = `${frequencyHz} ${dampingPerM}`
    let field = fields.get(key)
    if (!field) {
      field = hallField(sources, hall, frequencyHz, air, dampingPerM)
      fields.set(key, field)
    }
    const in01 = Math.max(0, Math.min(1, (frequencyHz - fadeInHz.from) / (fadeInHz.to - fadeInHz.from)))
    const share = gain * Math.sin((Math.PI / 2) * in01) ** 2 * imagesShare(frequencyHz, joinHz)
    return multiply(field(listener), { re: share, im: 0 })
  }
  return hallFieldResponse(fieldAt, hall, air, {
    ...spec,
    fromHz: fadeInHz.from,
    toHz: joinHz * Math.SQRT2,
  })
}
