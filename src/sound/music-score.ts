/** Length of the loop in beats: four bars of four. */
export const loopBeats = 16

/** Tempo, beats a minute; four bars last eight seconds. */
export const tempoBpm = 120

/** One note or stroke. `beat` counts from the loop's start, `level` is linear, 1 the loudest of its voice. */
export type MusicNote = { beat: number; level: number } & (
  | { voice: 'kick' | 'snare' | 'closed-hat' | 'open-hat' }
  | { voice: 'bass' | 'chord'; frequencyHz: number; beats: number }
)

/**
 * Frequency of a note number, equal temperament on A4 = 440 Hz (number 69).
 *
 * Source: ISO 16 for 440 Hz; the numbering is that of the MIDI 1.0 specification.
 */
export const noteFrequencyHz = (noteNumber: number): number => 440 * 2 ** ((noteNumber - 69) / 12)

/** Bass note and chord of each bar, by note number. The lowest bass note, E1, lies at 41 Hz on purpose. */
const bars = [
  { bass: 28, chord: [52, 59, 64, 67, 71] },
  { bass: 31, chord: [50, 59, 62, 67, 71] },
  { bass: 36, chord: [48, 55, 64, 67, 72] },
  { bass: 33, chord: [45, 57, 64, 69, 72] },
]

/** Where in a bar the bass plays: beat, length in beats, octave shift in note numbers. */
const bassFigure = [
  { beat: 0, beats: 0.9, shift: 0 },
  { beat: 1.5, beats: 0.45, shift: 0 },
  { beat: 2, beats: 0.45, shift: 12 },
  { beat: 2.5, beats: 0.9, shift: 0 },
  { beat: 3.5, beats: 0.4, shift: 7 },
]

/** Where in a bar the chords are struck. */
const chordFigure = [
  { beat: 0, beats: 0.75, level: 1 },
  { beat: 1.5, beats: 0.4, level: 0.8 },
  { beat: 2.5, beats: 0.4, level: 0.9 },
  { beat: 3.5, beats: 0.3, level: 0.7 },
]

/**
 * All notes of the loop: kick on every beat, snare on two and four, hats in eighths, a walking bass and struck chords.
 * Written for this project, so that a listener hears every band that a loudspeaker has to place.
 */
export function musicScore(): MusicNote[] {
  return bars.flatMap((bar, barIndex) => {
    const start = barIndex * 4
    const kicks = [0, 1, 2, 3].map((beat): MusicNote => ({ voice: 'kick', beat: start + beat, level: 1 }))
    const snares = [1, 3].map((beat): MusicNote => ({ voice: 'snare', beat: start + beat, level: 1 }))
    const hats = [0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5].map(
      (beat): MusicNote => ({
        voice: beat % 1 === 0 ? 'closed-hat' : 'open-hat',
        beat: start + beat,
        level: beat % 2 === 0 ? 1 : 0.7,
      }),
    )
    const bass = bassFigure.map(
      ({ beat, beats, shift }): MusicNote => ({
        voice: 'bass',
        beat: start + beat,
        level: 1,
        frequencyHz: noteFrequencyHz(bar.bass + shift),
        beats,
      }),
    )
    const chords = chordFigure.flatMap(({ beat, beats, level }) =>
      bar.chord.map(
        (noteNumber): MusicNote => ({
          voice: 'chord',
          beat: start + beat,
          level,
          frequencyHz: noteFrequencyHz(noteNumber),
          beats,
        }),
      ),
    )
    return [...kicks, ...snares, ...hats, ...bass, ...chords]
  })
}
