/**
 * Gives audio parameters `cancelAndHoldAtTime` where the browser has none (Firefox). Tone.js calls it when a source is ended
 * at the very time of its last event, as when it is stopped before the context runs. Nothing follows that event, and Tone.js
 * sets the value held right after it, so that to cancel what is scheduled from then on comes to the same.
 */
export function provideParamHold(): void {
  const { prototype } = AudioParam
  if ('cancelAndHoldAtTime' in prototype) return
  Object.defineProperty(prototype, 'cancelAndHoldAtTime', {
    configurable: true,
    value(this: AudioParam, timeS: number) {
      return this.cancelScheduledValues(timeS)
    },
  })
}
