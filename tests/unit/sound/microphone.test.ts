import { afterEach, describe, expect, test, vi } from 'vitest'
import { listMicrophones, openMicrophone, processingOf } from '../../../src/sound/microphone.ts'

afterEach(() => vi.unstubAllGlobals())

const device = (getUserMedia: (asked: MediaStreamConstraints) => Promise<unknown>, more = {}) => {
  vi.stubGlobal('navigator', { mediaDevices: { getUserMedia, ...more } })
  vi.stubGlobal('AudioWorkletNode', class {})
}
const stream = (settings: MediaTrackSettings) => ({ getAudioTracks: () => [{ getSettings: () => settings }] })

describe('opening an input', () => {
  test('asks for two channels with everything off that is done to speech, and tells what stays on', async () => {
    const asked: MediaStreamConstraints[] = []
    device(async (constraints) => {
      asked.push(constraints)
      return stream({ deviceId: 'a', sampleRate: 44100, echoCancellation: false, autoGainControl: true })
    })
    const opened = await openMicrophone('a')
    expect(asked).toEqual([
      {
        audio: {
          deviceId: { exact: 'a' },
          echoCancellation: false,
          noiseSuppression: false,
          autoGainControl: false,
          channelCount: { ideal: 2 },
        },
      },
    ])
    expect(opened.sampleRateHz).toBe(44100)
    expect(opened.processing).toEqual({ echoCancellation: 'off', noiseSuppression: 'untold', autoGainControl: 'on' })
  })

  test('without a wish the usual input is asked for', async () => {
    let asked: MediaStreamConstraints = {}
    device(async (constraints) => {
      asked = constraints
      return stream({})
    })
    await openMicrophone()
    expect(asked.audio).not.toHaveProperty('deviceId')
  })

  test('a kind of echo cancelling by name is on', () => {
    const settings = { echoCancellation: 'remote-only' } as unknown as MediaTrackSettings
    expect(processingOf(settings).echoCancellation).toBe('on')
  })

  test.each([
    ['NotAllowedError', 'refused'],
    ['SecurityError', 'refused'],
    ['NotFoundError', 'none'],
    ['OverconstrainedError', 'gone'],
    ['NotReadableError', 'taken'],
    ['AbortError', 'taken'],
    ['TypeError', 'failed'],
  ])('%s is “%s”', async (name, kind) => {
    device(() => Promise.reject(Object.assign(new Error('why'), { name })))
    await expect(openMicrophone()).rejects.toMatchObject({ name: 'MicrophoneError', kind, message: 'why' })
  })

  test('says whether the connection or the browser is the reason that there is none', async () => {
    vi.stubGlobal('navigator', {})
    vi.stubGlobal('isSecureContext', false)
    await expect(openMicrophone()).rejects.toMatchObject({ kind: 'insecure' })
    vi.stubGlobal('isSecureContext', true)
    await expect(openMicrophone()).rejects.toMatchObject({ kind: 'unsupported' })
  })

  test('asks for no permission where the sound could not be taken in', async () => {
    const getUserMedia = vi.fn()
    vi.stubGlobal('navigator', { mediaDevices: { getUserMedia } })
    await expect(openMicrophone()).rejects.toMatchObject({ kind: 'unsupported' })
    expect(getUserMedia).not.toHaveBeenCalled()
  })
})

test('only inputs that can be chosen are listed, and a browser that lists none does no harm', async () => {
  const enumerateDevices = async () => [
    { kind: 'audioinput', deviceId: '', label: '' },
    { kind: 'audioinput', deviceId: 'a', label: 'Interface' },
    { kind: 'audiooutput', deviceId: 'b', label: 'Headphones' },
    { kind: 'videoinput', deviceId: 'c', label: 'Camera' },
  ]
  device(async () => undefined, { enumerateDevices })
  expect(await listMicrophones()).toEqual([{ deviceId: 'a', label: 'Interface' }])
  device(async () => undefined, { enumerateDevices: () => Promise.reject(new Error('no')) })
  expect(await listMicrophones()).toEqual([])
})
