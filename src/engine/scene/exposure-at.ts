import { allowedExposureH } from '../../acoustics/hearing/exposure.ts'
import type { Heard } from './heard.ts'

/** The level at a place as it is told, dB(A), and the longest time a day that NIOSH recommends for people at work at that level, h. */
export function exposureAt({ aWeightedDb }: Heard): { levelDbA: number; hours: number } {
  const levelDbA = Math.max(0, Math.round(aWeightedDb))
  return { levelDbA, hours: allowedExposureH(levelDbA) }
}
