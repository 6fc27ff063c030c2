import { createBand } from './music-band.ts'
import { loopBars, loopBeats, musicScore, tempoBpm } from './music-score.ts'
import { renderOffline } from './tone-nodes.ts'

/** Samples in a render quantum; the loop and the bar before it are whole quanta, so that both meet the same rounding. */
const quantumSamples = 128

/**
 * The music loop: kick, clap, hats, shaker, bass, chords and plucks, synthesised here. The last bar is played once before
 * the loop and cut off again, so that what rings on from the loop's end is already there at its beginning.
 *
 * @param sampleRateHz  any that the browser renders at
 * @returns  sixteen seconds of samples to the nearest 1024, as loud as its voices come out: to be scaled
 */
export async function renderMusicLoop(sampleRateHz: number): Promise<Float32Array> {
  const loopS = loopBeats * (60 / tempoBpm)
  const leadIn = Math.round(((loopS / loopBars) * sampleRateHz) / quantumSamples) * quantumSamples
  const length = leadIn * loopBars
  const rendered = await renderOffline({ sampleRateHz, length: leadIn + length }, (context, clock) => {
    const band = createBand(context, sampleRateHz)
    const notes = musicScore().map((note) => ({ note, sample: Math.round((note.beat / loopBeats) * length) }))
    // Bar −1 is the lead-in. In order of time, because the ducking of one kick begins where that of the kick before it ends.
    const playBar = (bar: number): void => {
      const barStart = (bar + 1) * leadIn
      const written = (bar + loopBars) % loopBars
      for (const { note, sample } of notes
        .filter((each) => Math.floor(each.sample / leadIn) === written)
        .sort((a, b) => a.sample - b.sample)) {
        band.play(note, (barStart + sample - written * leadIn) / sampleRateHz)
      }
    }
    playBar(-1)
    for (let bar = 0; bar < loopBars; bar++) {
      if (!clock) {
        playBar(bar)
        continue
      }
      // Bar by bar while it is rendered, because every node that exists costs time in every render quantum.
      clock.callAt(((bar + 1) * leadIn - quantumSamples) / sampleRateHz, () => {
        band.forgetBefore((bar * leadIn) / sampleRateHz)
        playBar(bar)
      })
    }
  })
  return rendered.slice(leadIn)
}
