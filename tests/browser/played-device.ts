// A microphone of the tests: Chromium plays a file as what its input hears; and devices that fail.
import { mkdirSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from '@playwright/test'
import { writeWav } from '../../src/acoustics/signals/write-wav.ts'

/**
 * Launch options of a Chromium whose microphone plays some channels over and over. The browser reads the file when it begins, so it
 * has to be there, and whole, before any test: call it as the test file is read.
 *
 * @param name  of the file among the tests' results, one for each test file
 */
export function playedAsMicrophone(name: string, sampleRateHz: number, channels: Float32Array[]) {
  const folder = join(import.meta.dirname, '../results')
  const played = join(folder, name)
  mkdirSync(folder, { recursive: true })
  writeFileSync(`${played}.${process.pid}`, writeWav({ sampleRateHz, channels }, 'pcm16'))
  renameSync(`${played}.${process.pid}`, played)
  const executablePath = process.env['CHROMIUM_PATH']
  return {
    ...(executablePath ? { executablePath } : {}),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-background-networking',
      '--disable-component-update',
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${played}`,
    ],
  }
}

/** What can be wrong with a microphone: its name, what the page's own scripts meet, and what the page says of it. */
export const failingMicrophones: readonly (readonly [title: string, spoil: () => void, words: string])[] = [
  [
    'permission that is refused',
    () => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', 'NotAllowedError'))
    },
    'The microphone was not allowed.',
  ],
  [
    'a device without a microphone',
    () => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', 'NotFoundError'))
    },
    'There is no microphone.',
  ],
  [
    'an insecure connection',
    () => {
      Object.defineProperty(navigator, 'mediaDevices', { value: undefined })
      Object.defineProperty(window, 'isSecureContext', { value: false })
    },
    'insecure connection',
  ],
]

declare global {
  interface Window {
    heldTracks: MediaStreamTrack[]
  }
}

/** Watches what the page opens, so that it can be seen to be let go, or taken away. To be called before the page opens. */
export const watchTracks = (page: Page) =>
  page.addInitScript(() => {
    window.heldTracks = []
    const { mediaDevices } = navigator
    if (!mediaDevices) return
    const ask = mediaDevices.getUserMedia.bind(mediaDevices)
    mediaDevices.getUserMedia = async (constraints) => {
      const stream = await ask(constraints)
      window.heldTracks.push(...stream.getTracks())
      return stream
    }
  })

/** How many inputs the page has not let go. */
export const openTracks = (page: Page): Promise<number> =>
  page.evaluate(() => window.heldTracks.filter(({ readyState }) => readyState === 'live').length)
