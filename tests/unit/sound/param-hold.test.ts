import { afterEach, expect, test, vi } from 'vitest'
import { provideParamHold } from '../../../src/sound/param-hold.ts'

afterEach(() => {
  vi.unstubAllGlobals()
})

test('a parameter that cannot be held has its events from then on cancelled instead', () => {
  class AudioParam {
    cancelledFromS: number[] = []
    cancelScheduledValues(timeS: number): this {
      this.cancelledFromS.push(timeS)
      return this
    }
  }
  vi.stubGlobal('AudioParam', AudioParam)
  provideParamHold()
  const param = new AudioParam() as AudioParam & { cancelAndHoldAtTime(timeS: number): AudioParam }
  expect(param.cancelAndHoldAtTime(0.03)).toBe(param)
  expect(param.cancelledFromS).toEqual([0.03])
})

test('what the browser has is left alone', () => {
  class AudioParam {
    cancelAndHoldAtTime(): string {
      return 'the browser’s'
    }
  }
  vi.stubGlobal('AudioParam', AudioParam)
  provideParamHold()
  expect(new AudioParam().cancelAndHoldAtTime()).toBe('the browser’s')
})
