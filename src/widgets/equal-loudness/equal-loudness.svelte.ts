import { loudnessLevelPhon } from '../../acoustics/index.ts'
import { LinkedFigure } from '../figure/linked-figure.svelte.ts'
import { contourFrequenciesHz, toneLevelRangeDb } from './contour-curves.ts'
import { type EqualLoudnessState, equalLoudnessLink } from './equal-loudness-link.ts'
import { levelDrop } from './level-drop.ts'

/** The state of one explorer: a tone on the contours, and two tones as loud as it that drop by 10 dB. */
export class EqualLoudness extends LinkedFigure<EqualLoudnessState> {
  constructor(base: EqualLoudnessState) {
    super(equalLoudnessLink, base)
  }

  /** Where the tone may be at its frequency, dB re 20 µPa. */
  levelRangeDb = $derived.by(() => toneLevelRangeDb(this.state.frequencyHz))
  /** The level as asked for, kept in that range, whole dB. */
  levelDb = $derived.by(() => within(this.levelRangeDb, Math.round(this.state.levelDb)))
  phon = $derived.by(() => loudnessLevelPhon(this.levelDb, this.state.frequencyHz))
  bassDrop = $derived.by(() => levelDrop(this.phon, this.state.bassHz))
  referenceDrop = $derived.by(() => levelDrop(this.phon, 1000))

  /** Puts the tone at the third octave and the whole dB nearest to a spot of the chart. */
  moveTo(frequencyHz: number, levelDb: number): void {
    const away = contourFrequenciesHz.map((known) => Math.abs(Math.log(known / frequencyHz)))
    this.state.frequencyHz = contourFrequenciesHz[away.indexOf(Math.min(...away))] ?? this.state.frequencyHz
    this.state.levelDb = Math.round(levelDb)
    this.state.levelDb = this.levelDb
  }

  /** Moves the tone by third octaves and by dB. */
  step({ thirds = 0, levelDb = 0 }: { thirds?: number; levelDb?: number }): void {
    const index = contourFrequenciesHz.indexOf(this.state.frequencyHz) + thirds
    const last = contourFrequenciesHz.length - 1
    this.state.frequencyHz = contourFrequenciesHz[within({ min: 0, max: last }, index)] ?? this.state.frequencyHz
    if (levelDb !== 0) this.state.levelDb = within(this.levelRangeDb, this.levelDb + levelDb)
  }
}

const within = ({ min, max }: { min: number; max: number }, value: number) => Math.min(max, Math.max(min, value))
