/**
 * Long-term average speech spectrum of men and women in twelve languages, by third octave, for speech of 70 dB overall.
 *
 * Third-octave levels in dB re 20 µPa, nominal frequencies 63 Hz … 16 kHz. At 63 to 125 Hz they are those of men alone,
 * whose voices reach so low.
 * Source: Byrne et al., J. Acoust. Soc. Am. 96 (1994) 2108–2120, Table II, combined values.
 */
export const speechThirdOctaves: readonly { nominalHz: number; levelDb: number }[] = [
  { nominalHz: 63, levelDb: 38.6 },
  { nominalHz: 80, levelDb: 43.5 },
  { nominalHz: 100, levelDb: 54.4 },
  { nominalHz: 125, levelDb: 57.7 },
  { nominalHz: 160, levelDb: 56.8 },
  { nominalHz: 200, levelDb: 60.2 },
  { nominalHz: 250, levelDb: 60.3 },
  { nominalHz: 315, levelDb: 59.0 },
  { nominalHz: 400, levelDb: 62.1 },
  { nominalHz: 500, levelDb: 62.1 },
  { nominalHz: 630, levelDb: 60.5 },
  { nominalHz: 800, levelDb: 56.8 },
  { nominalHz: 1000, levelDb: 53.7 },
  { nominalHz: 1250, levelDb: 53.0 },
  { nominalHz: 1600, levelDb: 52.0 },
  { nominalHz: 2000, levelDb: 48.7 },
  { nominalHz: 2500, levelDb: 48.1 },
  { nominalHz: 3150, levelDb: 46.8 },
  { nominalHz: 4000, levelDb: 45.6 },
  { nominalHz: 5000, levelDb: 44.5 },
  { nominalHz: 6300, levelDb: 44.3 },
  { nominalHz: 8000, levelDb: 43.7 },
  { nominalHz: 10000, levelDb: 43.4 },
  { nominalHz: 12500, levelDb: 41.3 },
  { nominalHz: 16000, levelDb: 40.7 },
]
