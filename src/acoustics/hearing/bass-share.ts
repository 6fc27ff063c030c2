import { loudnessBark } from './loudness-bark.ts'
import { loudnessBelowBark, requireSpecificLoudness } from './specific-loudness.ts'
import type { Loudness } from './zwicker-loudness.ts'

/** Upper limit of bass in the bass share unless another is asked for, Hz. */
export const bassShareUpToHz = 250

/**
 * Bass share: the part of the total loudness that lies below a frequency,  ∫₀^z N′ dz / ∫₀^24 N′ dz. It is our own measure,
 * built on a standard's quantity: no standard defines it. It says how much of what is heard is bass, not how loud the bass is;
 * for that see `loudnessBelowHz`.
 *
 * The limit is placed on the scale of the loudness method (`loudnessBark`: 250 Hz at 2.49 Bark, inside the method's band of
 * 200 and 250 Hz); a limit a tenth of a Bark off changes the share of flat third octaves by 0.004. The upward slope of the
 * bass, which its pattern trails above the limit and which masks there, counts as not bass; so the share leans to the low side
 * where bass is loud and nearly alone: 100 dB in the third octave 63 Hz and nothing else gives 0.65 instead of 1.
 *
 * @param specific  240 samples of specific loudness, sone/Bark, as from `zwickerLoudness`
 * @param upToHz    0 … 20 000 Hz, default 250
 * @returns  0 … 1, rising with upToHz; 0 for silence
 * @throws   RangeError if there are not 240 samples, one is negative or not finite, or upToHz is out of range
 * Source:   ours, on ISO 532-1:2017.
 */
export function bassShare(specific: Float64Array, upToHz = bassShareUpToHz): number {
  const upToBark = loudnessBark(upToHz)
  const whole = loudnessBelowBark(requireSpecificLoudness(specific), 24)
  return whole === 0 ? 0 : Math.min(1, loudnessBelowBark(specific, upToBark) / whole)
}

/**
 * Loudness of the part of a sound below a frequency: bass share × loudness. Ours, as the bass share is.
 *
 * @param loudness  from `zwickerLoudness`
 * @param upToHz    0 … 20 000 Hz, default 250
 * @returns  sone, 0 to loudness.sones
 * @throws   RangeError as `bassShare`
 */
export function loudnessBelowHz(loudness: Loudness, upToHz = bassShareUpToHz): number {
  return bassShare(loudness.specific, upToHz) * loudness.sones
}
