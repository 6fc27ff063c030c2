import { describe, expect, test } from 'vitest'
import { readWav } from '../../../src/acoustics/signals/read-wav.ts'
import { longestS, mostSamples, SampleStore } from '../../../src/sound/sample-store.ts'

const ramp = (length: number, step: number) => Float32Array.from({ length }, (_, n) => (n + 1) * step)
const read = async (store: SampleStore) => readWav(new Uint8Array(await store.wav().file.arrayBuffer()))

describe('a recording that grows', () => {
  test('is a WAV file of the very samples that came, at any time', async () => {
    const store = new SampleStore({ sampleRateHz: 48000, inputs: [0, 1] })
    const [left, right] = [ramp(5000, 1e-4), ramp(5000, -1e-4)]
    store.push([left.subarray(0, 3000), right.subarray(0, 3000)])
    expect((await read(store)).channels[0]).toHaveLength(3000)
    store.push([left.subarray(3000), right.subarray(3000)])
    const { sampleRateHz, channels } = await read(store)
    expect(sampleRateHz).toBe(48000)
    // Equal, not near: floats go through as they are.
    expect(channels.map((samples) => Float32Array.from(samples))).toEqual([left, right])
    expect(store.durationS).toBe(5000 / 48000)
  })

  test('takes the channels in the order that it was told', async () => {
    const store = new SampleStore({ sampleRateHz: 44100, inputs: [1, 0] })
    store.push([Float32Array.of(0.25), Float32Array.of(-0.5)])
    expect((await read(store)).channels.map(([sample]) => sample)).toEqual([-0.5, 0.25])
    const one = new SampleStore({ sampleRateHz: 44100, inputs: [1] })
    one.push([Float32Array.of(0.25), Float32Array.of(-0.5)])
    expect((await read(one)).channels.map(([sample]) => sample)).toEqual([-0.5])
  })

  test('a channel that goes missing on the way is silent from there on', async () => {
    const store = new SampleStore({ sampleRateHz: 44100, inputs: [0, 1] })
    store.push([Float32Array.of(0.25), Float32Array.of(-0.5)])
    store.push([Float32Array.of(0.125)])
    expect((await read(store)).channels.map((samples) => [...samples])).toEqual([
      [0.25, 0.125],
      [-0.5, 0],
    ])
  })

  test('says where its samples lie as the reader of files finds them', async () => {
    const store = new SampleStore({ sampleRateHz: 8000, inputs: [0, 1] })
    store.push([ramp(300, 1e-3), ramp(300, 2e-3)])
    const { file, layout } = store.wav()
    const { openWav } = await import('../../../src/acoustics/measuring/wav-stream.ts')
    const { byteSource } = await import('../../../src/engine/questions/compare/byte-source.ts')
    expect(layout).toEqual(await openWav(byteSource(file)))
  })

  test('keeps what it has when it is full, and takes no more', async () => {
    // 8 kHz, one channel: ten minutes are 4.8 million samples.
    const store = new SampleStore({ sampleRateHz: 8000, inputs: [0] })
    expect(store.longestS).toBe(longestS)
    const minute = ramp(60 * 8000, 1e-6)
    for (let n = 0; n < 9; n++) store.push([minute])
    expect(store.isFull).toBe(false)
    store.push([minute.subarray(0, 8000)])
    store.push([minute])
    expect(store.isFull).toBe(true)
    expect(store.frameCount).toBe(longestS * 8000)
    store.push([minute])
    expect(store.frameCount).toBe(longestS * 8000)
    expect(store.wav().file.size).toBe(44 + 4 * longestS * 8000)
    // The end of what came last is what did not fit.
    const end = new Float32Array(await store.wav().file.slice(-4).arrayBuffer())[0]
    expect(end).toBe(minute[59 * 8000 - 1])
  })

  test('two channels at 96 kHz are held for half as long, so that memory is bounded', () => {
    const store = new SampleStore({ sampleRateHz: 96000, inputs: [0, 1] })
    expect(store.longestS).toBe(mostSamples / 2 / 96000)
    expect(store.longestS).toBeLessThan(longestS)
  })

  test('refuses what is no recording', () => {
    expect(() => new SampleStore({ sampleRateHz: 4000, inputs: [0] })).toThrow(/sampleRateHz is 4000; allowed/)
    expect(() => new SampleStore({ sampleRateHz: 48000, inputs: [] })).toThrow(/inputs.length is 0/)
  })
})
