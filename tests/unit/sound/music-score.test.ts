import { expect, test } from 'vitest'
import { loopBeats, musicScore, noteFrequencyHz, tempoBpm } from '../../../src/sound/music-score.ts'

test('note numbers follow equal temperament on 440 Hz', () => {
  expect(noteFrequencyHz(69)).toBe(440)
  // E1 and C4, rounded to 0.01 Hz in tables of equal temperament (common practice, no source).
  expect(noteFrequencyHz(28)).toBeCloseTo(41.2, 1)
  expect(noteFrequencyHz(60)).toBeCloseTo(261.63, 2)
})

test('the loop lasts eight seconds and every note begins inside it', () => {
  expect((loopBeats * 60) / tempoBpm).toBe(8)
  for (const note of musicScore()) {
    expect(note.beat).toBeGreaterThanOrEqual(0)
    expect(note.beat).toBeLessThan(loopBeats)
    expect(note.level).toBeGreaterThan(0)
    expect(note.level).toBeLessThanOrEqual(1)
  }
})

test('no note outlasts the bar that is played before the loop, so that bar brings every tail', () => {
  // Eight time constants of the slowest decay, 0.08 s, come on top: 1.28 beats of the bar's four.
  for (const note of musicScore()) {
    if ('beats' in note) expect(note.beats).toBeLessThan(4 - 1.28)
  }
})

test('the loop has kick, snare, hats, bass and chords, and its lowest note lies in the 40 Hz third octave', () => {
  const score = musicScore()
  const voices = new Set(score.map((note) => note.voice))
  expect(voices).toEqual(new Set(['kick', 'snare', 'closed-hat', 'open-hat', 'bass', 'chord']))
  const lowestHz = Math.min(...score.flatMap((note) => ('frequencyHz' in note ? [note.frequencyHz] : [])))
  // Edges of the 40 Hz band, IEC 61260-1: 10^1.6 · 10^(±1/20) Hz.
  expect(lowestHz).toBeGreaterThan(10 ** 1.55)
  expect(lowestHz).toBeLessThan(10 ** 1.65)
})
