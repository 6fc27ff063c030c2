import { expect, test } from 'vitest'
import {
  beatsPerBar,
  loopBars,
  loopBeats,
  musicScore,
  noteFrequencyHz,
  tempoBpm,
} from '../../../src/sound/music-score.ts'

test('note numbers follow equal temperament on 440 Hz', () => {
  expect(noteFrequencyHz(69)).toBe(440)
  // E1 and C4, rounded to 0.01 Hz in tables of equal temperament (common practice, no source).
  expect(noteFrequencyHz(28)).toBeCloseTo(41.2, 1)
  expect(noteFrequencyHz(60)).toBeCloseTo(261.63, 2)
})

test('the loop lasts sixteen seconds and every note begins inside it', () => {
  expect((loopBeats * 60) / tempoBpm).toBe(16)
  for (const note of musicScore()) {
    expect(note.beat).toBeGreaterThanOrEqual(0)
    expect(note.beat).toBeLessThan(loopBeats)
    expect(note.level).toBeGreaterThan(0)
    expect(note.level).toBeLessThanOrEqual(1)
  }
})

test('no note outlasts the bar that is played before the loop, so that bar brings every tail', () => {
  // Eight time constants of the slowest decay, 0.12 s, come on top: 1.92 beats of the bar's four.
  for (const note of musicScore()) {
    if ('beats' in note) expect(note.beats).toBeLessThan(beatsPerBar - 1.92)
  }
})

test('the loop has drums, bass, chords and plucks, and its lowest note lies in the 40 Hz third octave', () => {
  const score = musicScore()
  const voices = new Set(score.map((note) => note.voice))
  expect(voices).toEqual(
    new Set(['kick', 'clap', 'closed-hat', 'open-hat', 'shaker', 'bass', 'chord', 'pluck'] as const),
  )
  const lowestHz = Math.min(...score.flatMap((note) => ('frequencyHz' in note ? [note.frequencyHz] : [])))
  // Edges of the 40 Hz band, IEC 61260-1: 10^1.6 · 10^(±1/20) Hz.
  expect(lowestHz).toBeGreaterThan(10 ** 1.55)
  expect(lowestHz).toBeLessThan(10 ** 1.65)
})

test('no two neighbouring bars are alike, and no stroke is written twice', () => {
  const score = musicScore()
  const bar = (index: number): string =>
    score
      .filter(({ beat }) => Math.floor(beat / beatsPerBar) === index)
      .map(
        (note) => `${note.voice} ${note.beat - index * beatsPerBar} ${'frequencyHz' in note ? note.frequencyHz : ''}`,
      )
      .sort()
      .join()
  for (let index = 0; index < loopBars; index++) expect(bar(index)).not.toBe(bar((index + 1) % loopBars))
  const drums = score.filter((note) => !('frequencyHz' in note)).map(({ voice, beat }) => `${voice} ${beat}`)
  expect(new Set(drums).size).toBe(drums.length)
})
