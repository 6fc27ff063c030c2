/** What the mouth does for a moment. Levels are linear, frequencies in Hz. */
export type SpeechSegment = {
  durationS: number
  /** Level of the voice's pulses, of breath in the throat, and of hiss at the teeth or lips. */
  voice: number
  breath: number
  hiss: number
  /** Centre and width of the hiss. */
  hissHz: number
  hissWidthHz: number
  /** The first three resonances. */
  formantsHz: readonly [number, number, number]
  /** Extra width of the resonances, as a nose adds. */
  damped: boolean
  /** What the syllable adds to the pitch, Hz. */
  accentHz: number
}

/** A stretch of syllables on one breath, where it begins, and between which pitches it sinks. */
export type SpeechPhrase = { startS: number; fromPitchHz: number; toPitchHz: number; segments: SpeechSegment[] }

/**
 * Resonances of women's voices over those of men: the mean over the ten vowels and three resonances of the source below.
 * Source: Peterson & Barney 1952, Table II.
 */
const womensResonances = 1.16

/** Length of the loop, s. */
export const speechLoopS = 8

/**
 * First three resonances of vowels in the speech of men, Hz.
 * Source: Peterson & Barney, J. Acoust. Soc. Am. 24 (1952) 175–184, Table II, men.
 */
const vowels = {
  i: [270, 2290, 3010],
  ɪ: [390, 1990, 2550],
  ɛ: [530, 1840, 2480],
  æ: [660, 1720, 2410],
  ɑ: [730, 1090, 2440],
  ɔ: [570, 840, 2410],
  ʊ: [440, 1020, 2240],
  u: [300, 870, 2240],
  ʌ: [640, 1190, 2390],
  ɝ: [490, 1350, 1690],
} as const satisfies Record<string, readonly [number, number, number]>

type Vowel = keyof typeof vowels

const quiet = { voice: 0, breath: 0, hiss: 0, hissHz: 4000, hissWidthHz: 3000, damped: false } as const

/**
 * Consonants by letter, each in the order in which its parts sound. Those without resonances of their own take the
 * vowel's. Lengths, centres and levels are our own choice after a phonetician's rules of thumb (common practice, no source).
 */
const consonants = {
  b: [
    { durationS: 0.05, voice: 0.12, formantsHz: [200, 900, 2200] },
    { durationS: 0.008, hiss: 0.5, hissHz: 900, hissWidthHz: 900, formantsHz: [350, 900, 2200] },
  ],
  d: [
    { durationS: 0.045, voice: 0.12, formantsHz: [200, 1750, 2600] },
    { durationS: 0.008, hiss: 0.7, hissHz: 4500, hissWidthHz: 3500, formantsHz: [350, 1750, 2600] },
  ],
  k: [
    { durationS: 0.06 },
    { durationS: 0.014, hiss: 0.8, hissHz: 2100, hissWidthHz: 1200 },
    { durationS: 0.03, breath: 0.5 },
  ],
  t: [
    { durationS: 0.055 },
    { durationS: 0.012, hiss: 1, hissHz: 5500, hissWidthHz: 4500 },
    { durationS: 0.03, breath: 0.4, hiss: 0.25, hissHz: 5500, hissWidthHz: 4500 },
  ],
  s: [{ durationS: 0.1, hiss: 0.8, hissHz: 7500, hissWidthHz: 5000 }],
  ʃ: [{ durationS: 0.1, hiss: 0.8, hissHz: 3600, hissWidthHz: 2400 }],
  f: [{ durationS: 0.09, hiss: 0.3, hissHz: 7000, hissWidthHz: 12000 }],
  h: [{ durationS: 0.06, breath: 0.6 }],
  m: [{ durationS: 0.07, voice: 0.4, formantsHz: [260, 1000, 2200], damped: true }],
  n: [{ durationS: 0.065, voice: 0.4, formantsHz: [260, 1500, 2500], damped: true }],
  l: [{ durationS: 0.06, voice: 0.6, formantsHz: [350, 1100, 2700] }],
  r: [{ durationS: 0.06, voice: 0.6, formantsHz: [330, 1060, 1450] }],
  w: [{ durationS: 0.06, voice: 0.55, formantsHz: [300, 650, 2300] }],
  j: [{ durationS: 0.05, voice: 0.55, formantsHz: [280, 2250, 3000] }],
} as const satisfies Record<string, readonly (Partial<SpeechSegment> & { durationS: number })[]>

type Consonant = keyof typeof consonants

/** Syllables: what opens it, its vowel (two make a glide), what closes it, length of the vowel in s, accent in Hz. */
type Syllable = readonly [Consonant | '', Vowel | readonly [Vowel, Vowel], Consonant | '', number, number]

const phrases: { startS: number; fromPitchHz: number; toPitchHz: number; resonances: number; syllables: Syllable[] }[] =
  [
    {
      startS: 0.15,
      fromPitchHz: 138,
      toPitchHz: 96,
      resonances: 1,
      syllables: [
        ['w', 'ɪ', '', 0.11, 4],
        ['m', ['æ', 'ɛ'], '', 0.17, 32],
        ['l', 'ʌ', 's', 0.1, 0],
        ['d', 'ɔ', '', 0.16, 18],
        ['r', 'i', '', 0.12, 0],
        ['k', ['ɑ', 'ɪ'], 'n', 0.19, 28],
        ['', 'ʌ', '', 0.09, 0],
        ['ʃ', 'ɛ', '', 0.15, 12],
        ['l', 'u', '', 0.13, -4],
        ['t', 'ɪ', '', 0.1, -8],
      ],
    },
    {
      startS: 2.85,
      fromPitchHz: 208,
      toPitchHz: 176,
      resonances: womensResonances,
      syllables: [
        ['b', 'ʌ', '', 0.1, 0],
        ['t', ['ɔ', 'u'], '', 0.18, 40],
        ['n', 'ɪ', 'f', 0.1, 0],
        ['h', 'æ', '', 0.16, 16],
        ['d', 'ɝ', '', 0.13, 4],
        ['w', 'ʌ', '', 0.1, 0],
        ['s', ['ɛ', 'i'], 'm', 0.2, 62],
      ],
    },
    {
      startS: 5,
      fromPitchHz: 142,
      toPitchHz: 84,
      resonances: 1,
      syllables: [
        ['j', 'ɛ', '', 0.13, 14],
        ['n', 'ɑ', 't', 0.15, 10],
        ['', 'ʊ', '', 0.09, 0],
        ['l', 'æ', 's', 0.14, 32],
        ['m', 'i', '', 0.12, 0],
        ['r', ['ɔ', 'ʊ'], '', 0.18, 20],
        ['b', 'ɪ', 'ʃ', 0.1, 0],
        ['h', 'ɛ', '', 0.1, 12],
        ['k', 'ʌ', '', 0.12, 6],
        ['d', ['ɑ', 'ɔ'], 'n', 0.24, 8],
      ],
    },
  ]

/**
 * What the speech-like source does, phrase by phrase: a low voice, a higher one that asks, the low one again. Syllables
 * without words, written for this project; each phrase is one breath, with a pitch that sinks and rises with the
 * accents, and the loop begins and ends in a pause.
 */
export function speechPhrases(): SpeechPhrase[] {
  return phrases.map(({ syllables, resonances, ...phrase }) => ({
    ...phrase,
    segments: syllables.flatMap(syllableSegments).map((segment) => {
      const [first, second, third] = segment.formantsHz
      return { ...segment, formantsHz: [first * resonances, second * resonances, third * resonances] }
    }),
  }))
}

function syllableSegments([opening, vowel, closing, durationS, accentHz]: Syllable): SpeechSegment[] {
  const glide = (typeof vowel === 'string' ? [vowel] : vowel).map((letter) => vowels[letter])
  const first = glide[0] ?? vowels.ʌ
  const last = glide.at(-1) ?? first
  const parts = (letter: Consonant | '', formantsHz: SpeechSegment['formantsHz']): SpeechSegment[] =>
    letter === ''
      ? []
      : consonants[letter].map(
          (part) => ({ ...quiet, formantsHz, accentHz, ...(part as Partial<SpeechSegment>) }) as SpeechSegment,
        )
  const voice = 0.8 + Math.max(0, accentHz) / 100
  return [
    ...parts(opening, first),
    ...glide.map((formantsHz) => ({
      ...quiet,
      durationS: durationS / glide.length,
      voice,
      breath: 0.04,
      formantsHz,
      accentHz,
    })),
    ...parts(closing, last),
  ]
}
