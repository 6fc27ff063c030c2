import {
  type HallResponseSpec,
  hallField,
  hallFieldResponse,
  multiply,
  type PlanPoint,
  statisticalShare,
} from '../../acoustics/index.ts'
import type { PartsScene } from '../questions/hall/hall-parts.ts'
import { heardBands } from './heard.ts'
import { earHeightM } from './scene-terms.ts'

/** No rig sends anything to speak of below the first of these; from the second, the lowest band heard, on the sum is whole, Hz. */
const fadeInHz = { from: 14, to: heardBands[0]?.lowerHz ?? 22.4 }

/** The scenes whose fields are kept: two halls can be heard against each other, and each takes some tens of megabytes. */
let heardScenes: PartsScene[] = []

function keepFields(parts: PartsScene): void {
  const others = heardScenes.filter((each) => each !== parts)
  for (const old of others.slice(1)) old.fields.clear()
  heardScenes = [parts, ...others.slice(0, 1)]
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
  parts: PartsScene,
  place: PlanPoint,
  gain: number,
  spec: Omit<HallResponseSpec, 'fromHz' | 'toHz'>,
): Float32Array {
  const { scene, fields } = parts
  keepFields(parts)
  const { air } = scene
  const listener = scene.toHall({ ...place, yM: earHeightM })
  const joinHz = heardJoinHz(scene.levels)
  const fieldAt = (frequencyHz: number, dampingPerM: number) => {
    const key = `${frequencyHz} ${dampingPerM}`
    let field = fields.get(key)
    if (!field) {
      field = hallField(scene.sources, scene.hall, frequencyHz, air, dampingPerM)
      fields.set(key, field)
    }
    const in01 = Math.max(0, Math.min(1, (frequencyHz - fadeInHz.from) / (fadeInHz.to - fadeInHz.from)))
    const share = gain * Math.sin((Math.PI / 2) * in01) ** 2 * imagesShare(frequencyHz, joinHz)
    return multiply(field(listener), { re: share, im: 0 })
  }
  return hallFieldResponse(fieldAt, scene.hall, air, {
    ...spec,
    fromHz: fadeInHz.from,
    toHz: joinHz * Math.SQRT2,
  })
}
