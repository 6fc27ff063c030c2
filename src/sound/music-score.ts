/** Beats in a bar, and bars and beats in the loop. */
export const beatsPerBar = 4
export const loopBars = 8
export const loopBeats = loopBars * beatsPerBar

/** Tempo, beats a minute; eight bars last sixteen seconds. */
export const tempoBpm = 120

/** One note or stroke. `beat` counts from the loop's start, `level` is linear, 1 the loudest of its voice. */
export type MusicNote = { beat: number; level: number } & (
  | { voice: 'kick' | 'clap' | 'closed-hat' | 'open-hat' | 'shaker' }
  | { voice: 'bass' | 'chord' | 'pluck'; frequencyHz: number; beats: number }
)

/**
 * Frequency of a note number, equal temperament on A4 = 440 Hz (number 69).
 *
 * Source: ISO 16 for 440 Hz; the numbering is that of the MIDI 1.0 specification.
 */
export const noteFrequencyHz = (noteNumber: number): number => 440 * 2 ** ((noteNumber - 69) / 12)

/** Root of the bass and voicing of the chord, bar by bar, by note number. The lowest bass note, E1, lies at 41 Hz on purpose. */
const harmony = [
  { root: 28, chord: [55, 59, 62, 66] },
  { root: 28, chord: [55, 59, 62, 66] },
  { root: 36, chord: [55, 59, 62, 64] },
  { root: 33, chord: [55, 59, 60, 64] },
  { root: 28, chord: [55, 59, 62, 66] },
  { root: 31, chord: [55, 59, 64, 69] },
  { root: 36, chord: [55, 59, 62, 64] },
  { root: 38, chord: [57, 60, 64, 67] },
]

type Stroke = { beat: number; beats: number; level: number; shift?: number }

/** Where in a bar the chords are struck, for odd and even bars. */
const chordFigures: Stroke[][] = [
  [
    { beat: 0, beats: 0.5, level: 0.9 },
    { beat: 0.75, beats: 0.25, level: 0.65 },
    { beat: 2.5, beats: 0.75, level: 1 },
  ],
  [
    { beat: 0.5, beats: 0.3, level: 0.75 },
    { beat: 1.5, beats: 0.6, level: 1 },
    { beat: 3.25, beats: 0.3, level: 0.7 },
  ],
]

/** Where in a bar the bass plays; `shift` in note numbers from the root. */
const bassFigures: Stroke[][] = [
  [
    { beat: 0, beats: 0.6, level: 1 },
    { beat: 0.75, beats: 0.2, level: 0.8 },
    { beat: 1.5, beats: 0.4, level: 0.9 },
    { beat: 2.5, beats: 0.45, level: 1 },
    { beat: 3.25, beats: 0.2, level: 0.7, shift: 12 },
    { beat: 3.5, beats: 0.4, level: 0.9, shift: 7 },
  ],
  [
    { beat: 0, beats: 0.9, level: 1 },
    { beat: 1.5, beats: 0.3, level: 0.9 },
    { beat: 2.25, beats: 0.2, level: 0.7, shift: 12 },
    { beat: 2.5, beats: 0.45, level: 1 },
    { beat: 3.5, beats: 0.4, level: 0.9, shift: -2 },
  ],
]

/** The plucked figure: three sixteenths apart, so that it comes round to another place in every bar. */
const pluckSpacing = 0.75
const pluckOrder = [1, 3, 1, 2, 0, 1, 3, 2]
/** Each pluck comes back twice, quieter, as from a far wall. */
const pluckEchoes = [
  { after: 0, level: 1 },
  { after: 0.75, level: 0.4 },
  { after: 1.5, level: 0.16 },
]

/**
 * All notes of the loop: kick on every beat, claps on two and four, hats and a shaker, a bass between the beats, struck
 * chords and a plucked figure that thickens in the second half. The fourth bar and the eighth vary the rhythm.
 * Written for this project, so that a listener hears every band that a loudspeaker has to place.
 */
export function musicScore(): MusicNote[] {
  return [...harmony.flatMap((_, bar) => [...drums(bar), ...bass(bar), ...chords(bar)]), ...plucks()]
}

function drums(bar: number): MusicNote[] {
  const start = bar * beatsPerBar
  const isLast = bar === loopBars - 1
  const endsHalf = bar % 4 === 3
  const stroke =
    (voice: 'kick' | 'clap' | 'closed-hat' | 'open-hat' | 'shaker', level: number) =>
    (beat: number): MusicNote => ({ voice, beat: start + beat, level })
  const kicks = isLast ? [0, 1, 2] : [0, 1, 2, 3]
  const claps = endsHalf ? [1, 3, 3.75] : [1, 3]
  const sixteenths = Array.from({ length: 16 }, (_, index) => index / 4)
  return [
    ...kicks.map(stroke('kick', 1)),
    ...(endsHalf ? [3.5].map(stroke('kick', 0.7)) : []),
    ...claps.map((beat) => stroke('clap', beat % 1 === 0 ? 1 : 0.5)(beat)),
    ...[0.5, 1.5, 2.5, 3.5].map((beat) => stroke('open-hat', beat === 3.5 ? 1 : 0.8)(beat)),
    ...[0.25, 1.75, 2.25, 3.25].map(stroke('closed-hat', bar % 2 === 0 ? 0.45 : 0.6)),
    // The shaker leans on every second sixteenth, which makes the bar swing.
    ...sixteenths.map((beat) => stroke('shaker', beat % 0.5 === 0 ? 0.5 : beat % 1 === 0.75 ? 1 : 0.7)(beat)),
  ]
}

function bass(bar: number): MusicNote[] {
  const root = harmony[bar]?.root ?? 28
  return (bassFigures[bar % 2] ?? []).map(({ beat, beats, level, shift = 0 }) => ({
    voice: 'bass',
    beat: bar * beatsPerBar + beat,
    level,
    frequencyHz: noteFrequencyHz(root + Math.max(shift, 28 - root)),
    beats,
  }))
}

function chords(bar: number): MusicNote[] {
  return (chordFigures[bar % 2] ?? []).flatMap(({ beat, beats, level }) =>
    (harmony[bar]?.chord ?? []).map(
      (noteNumber): MusicNote => ({
        voice: 'chord',
        beat: bar * beatsPerBar + beat,
        level,
        frequencyHz: noteFrequencyHz(noteNumber),
        beats,
      }),
    ),
  )
}

function plucks(): MusicNote[] {
  const steps = Math.floor(loopBeats / pluckSpacing)
  return Array.from({ length: steps }, (_, step) => step).flatMap((step) => {
    const beat = step * pluckSpacing
    const secondHalf = beat >= loopBeats / 2
    // The first half leaves every third step out.
    if (!secondHalf && step % 3 === 2) return []
    const chord = harmony[Math.floor(beat / beatsPerBar)]?.chord ?? []
    const noteNumber =
      (chord[pluckOrder[step % pluckOrder.length] ?? 0] ?? 64) + (secondHalf && step % 4 === 0 ? 24 : 12)
    return pluckEchoes.map(
      ({ after, level }): MusicNote => ({
        voice: 'pluck',
        // What comes back after the end comes back at the beginning.
        beat: (beat + after) % loopBeats,
        level: level * (step % 2 === 0 ? 1 : 0.75),
        frequencyHz: noteFrequencyHz(noteNumber),
        beats: 0.2,
      }),
    )
  })
}
