import { zwickerLoudness } from './zwicker-loudness.ts'

/** Gains that make two sounds equally loud, dB: one of them is 0, the other 0 or less. */
export type MatchedGains = { firstDb: number; secondDb: number }

/**
 * Turns the louder of two sounds down until both have the same loudness in sones.
 *
 * @param firstLevelsDb   28 third-octave levels, 25 Hz … 12.5 kHz, dB re 20 µPa; −Infinity is silence
 * @param secondLevelsDb  the same of the other sound
 * @param field           as for `zwickerLoudness`
 * @returns  both gains; 0 and 0 if one of the sounds cannot be heard (0 sone), since nothing then matches it
 * @throws   RangeError as `zwickerLoudness`
 * Accuracy: the loudness levels then differ by less than 0.01 phon, unless the method itself steps over equality: below
 *           250 Hz its correction changes by up to 3 dB at certain levels, and the loudness of the turned-down sound jumps there. The
 *           nearer side of the jump is taken.
 */
export function matchedLoudnessGains(
  firstLevelsDb: ArrayLike<number>,
  secondLevelsDb: ArrayLike<number>,
  field: 'free' | 'diffuse',
): MatchedGains {
  const first = zwickerLoudness(firstLevelsDb, field).sones
  const second = zwickerLoudness(secondLevelsDb, field).sones
  if (first === 0 || second === 0 || first === second) return { firstDb: 0, secondDb: 0 }
  return first > second
    ? { firstDb: gainToSonesDb(firstLevelsDb, second, field), secondDb: 0 }
    : { firstDb: 0, secondDb: gainToSonesDb(secondLevelsDb, first, field) }
}

/** Gain below 0 dB at which a sound has a lesser loudness: bracketed in steps of 10 dB, then halved to the last few bits. */
function gainToSonesDb(levelsDb: ArrayLike<number>, sones: number, field: 'free' | 'diffuse'): number {
  const shifted = new Float64Array(levelsDb.length)
  const sonesAt = (gainDb: number): number => {
    for (let i = 0; i < shifted.length; i++) shifted[i] = (levelsDb[i] as number) + gainDb
    return zwickerLoudness(shifted, field).sones
  }
  let highDb = 0
  let lowDb = -10
  while (sonesAt(lowDb) > sones) {
    highDb = lowDb
    lowDb -= 10
  }
  while (highDb - lowDb > 1e-7) {
    const middleDb = (highDb + lowDb) / 2
    if (sonesAt(middleDb) > sones) highDb = middleDb
    else lowDb = middleDb
  }
  return sonesAt(highDb) - sones < sones - sonesAt(lowDb) ? highDb : lowDb
}
