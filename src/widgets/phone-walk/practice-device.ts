import type { PracticePlace } from '../../engine/questions/phone-walk/phone-terms.ts'
import type { RecordingDevice } from '../compare/recorder.svelte.ts'

/** Sound of a place of the practice: a loop. */
type Loop = { sampleRateHz: number; samples: Float32Array }

const pieceFrames = 4096
/** A page that stood still does not make up for more than this, pieces. */
const mostAtOnce = 12

/**
 * A microphone that hears the practice: whatever place it is put at, as long as it is on. While the sound of a place is still being made it
 * hears nothing at all.
 *
 * @param at    where it is now
 * @param loop  makes the sound of a place; rejects if it cannot be made
 */
export function practiceDevice(
  at: () => PracticePlace,
  loop: (place: PracticePlace) => Promise<Loop | undefined>,
): RecordingDevice {
  const loops = new Map<PracticePlace, Loop>()
  const asked = new Set<PracticePlace>()
  const loopAt = (place: PracticePlace): Loop | undefined => {
    if (!asked.has(place)) {
      asked.add(place)
      loop(place)
        .then((made) => (made ? void loops.set(place, made) : void asked.delete(place)))
        // Asked again with the next piece.
        .catch(() => asked.delete(place))
    }
    return loops.get(place)
  }
  return {
    list: async () => [],
    open: async () => {
      const first = at()
      const made = loops.get(first) ?? (await loop(first))
      if (made) {
        loops.set(first, made)
        asked.add(first)
      }
      return {
        stream: { getTracks: () => [] } as unknown as MediaStream,
        deviceId: '',
        sampleRateHz: made?.sampleRateHz,
        processing: { echoCancellation: 'off', noiseSuppression: 'off', autoGainControl: 'off' },
      }
    },
    capture: async ({ sampleRateHz = 48000 }, { onPiece }) => {
      const begunMs = performance.now()
      let frames = 0
      let sent = 0
      const timer = setInterval(() => {
        const due = Math.floor(((performance.now() - begunMs) / 1000) * (sampleRateHz / pieceFrames))
        if (due - sent > mostAtOnce) sent = due - mostAtOnce
        for (; sent < due; sent++) {
          const playing = loopAt(at())
          if (!playing) continue
          const { samples } = playing
          const piece = new Float32Array(pieceFrames)
          for (let n = 0; n < pieceFrames; n++) piece[n] = samples[(frames + n) % samples.length] as number
          frames += pieceFrames
          // Its own clock, which runs with its sound: a page that was busy loses nothing.
          onPiece({ channels: [piece], timeMs: 1 + (1000 * frames) / sampleRateHz })
        }
      }, 40)
      return { sampleRateHz, end: () => clearInterval(timer) }
    },
  }
}
