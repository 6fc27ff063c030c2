// Recording here: the microphone goes on at a press, a recording is judged while it grows, and whatever ends it, what there is stays.

import type { Take } from '../../engine/questions/compare/compare-terms.ts'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import { type Capture, type CapturedPiece, type CaptureEvents, startCapture } from '../../sound/capture.ts'
import { type InputLevel, InputLevels } from '../../sound/input-levels.ts'
import {
  listMicrophones,
  type MicrophoneChoice,
  MicrophoneError,
  type MicrophoneProblem,
  type OpenMicrophone,
  openMicrophone,
} from '../../sound/microphone.ts'
import { SampleStore } from '../../sound/sample-store.ts'
import { soundLimitsS } from '../../sound/sound-limits.ts'
import { type AskEngine, RunningTake } from './running-take.ts'

/** What ended a recording: the reader, its greatest length, the device going or holding the sound back, or its step having been closed over it. */
export type RecordingEnd = 'reader' | 'limit' | 'gone' | 'held' | 'closed'

export type Recording = {
  wav: Blob
  durationS: number
  ended: RecordingEnd
  /** Whether the browser kept something on that it does to speech. */
  isProcessed: boolean
}

/**
 * Why nothing is recorded: an input's problem, another step that records, a page that went out of sight, or two channels that were to be two
 * microphones and are one.
 */
export type RecorderProblem = { kind: MicrophoneProblem | 'other' | 'hidden' | 'twice'; reason: string }

/** The device, or what stands in for it in a test. */
export type RecordingDevice = {
  open(deviceId: string): Promise<OpenMicrophone>
  list(): Promise<MicrophoneChoice[]>
  capture(microphone: OpenMicrophone, events: CaptureEvents): Promise<Capture>
}
const thisDevice: RecordingDevice = { open: openMicrophone, list: listMicrophones, capture: startCapture }

/** What is shown of levels and time follows so often, s. */
const shownEveryS = 0.5
/** A gap between two pieces that is longer is lost sound, s. */
const longestGapS = 1

/** The one recorder whose microphone is on: a page listens once. */
let holder: Recorder | undefined

export class Recorder {
  phase: 'off' | 'opening' | 'on' | 'recording' = $state('off')
  problem: RecorderProblem | undefined = $state.raw()
  devices: MicrophoneChoice[] = $state.raw([])
  deviceId = $state('')
  /** The input that is on. */
  microphone: (Omit<OpenMicrophone, 'stream'> & { sampleRateHz: number }) | undefined = $state.raw()
  levels: InputLevel[] = $state.raw([])
  /** Whether both channels are the same microphone. */
  isOneTwice = $state(false)
  elapsedS = $state(0)
  /** What the recording is worth so far; undefined until it can be told. */
  running: Take | undefined = $state.raw()
  /** Whether it cannot be told: the recording goes on all the same. */
  isUnjudged = $state(false)
  /** How long the page was out of sight while it recorded, s. */
  hiddenS = $state(0)

  readonly #ask: AskEngine | undefined
  readonly #onRecorded: (recording: Recording) => void
  readonly #device: RecordingDevice
  #capture: Capture | undefined
  #inputLevels: InputLevels | undefined
  #store: SampleStore | undefined
  #take: RunningTake | undefined
  #judging = false
  #begun = () => {}
  #lastPieceMs = 0
  #sinceShownS = 0
  #hiddenSinceMs: number | undefined
  /** Told of everything that comes while the microphone is on, recorded or not. */
  onPiece: ((piece: CapturedPiece) => void) | undefined
  /** Counts openings, so that an older one that still waits for permission opens nothing. */
  #turn = 0

  /**
   * @param ask  what a recording is worth while it grows; undefined for sound that is not judged so
   */
  constructor(ask: AskEngine | undefined, onRecorded: (recording: Recording) => void, device = thisDevice) {
    this.#ask = ask
    this.#onRecorded = onRecorded
    this.#device = device
  }

  /** Follows the device and the page. Returns the function that lets the microphone go; what is recorded until then is handed on. */
  start(): () => void {
    const relist = () => void this.#list()
    const see = () => this.#see(document.hidden)
    const leave = () => this.turnOff()
    navigator.mediaDevices?.addEventListener('devicechange', relist)
    document.addEventListener('visibilitychange', see)
    addEventListener('pagehide', leave)
    return () => {
      navigator.mediaDevices?.removeEventListener('devicechange', relist)
      document.removeEventListener('visibilitychange', see)
      removeEventListener('pagehide', leave)
      this.finish('closed')
    }
  }

  /** Opens an input and shows its levels; nothing is recorded yet. */
  async turnOn(deviceId = this.deviceId): Promise<void> {
    if (holder && holder !== this) {
      if (holder.phase === 'recording') {
        this.problem = { kind: 'other', reason: '' }
        return
      }
      holder.turnOff()
    }
    this.turnOff()
    holder = this
    const mine = ++this.#turn
    this.problem = undefined
    this.phase = 'opening'
    this.deviceId = deviceId
    try {
      const microphone = await this.#device.open(deviceId)
      if (mine !== this.#turn) {
        letGo(microphone)
        return
      }
      const capture = await this.#device.capture(microphone, {
        onPiece: (piece) => mine === this.#turn && this.#hear(piece),
        onGone: () => mine === this.#turn && this.#lose('gone'),
        onHeld: () => mine === this.#turn && this.#lose('held'),
      })
      if (mine !== this.#turn) {
        capture.end()
        return
      }
      const { stream: _, ...known } = microphone
      this.#capture = capture
      this.microphone = { ...known, sampleRateHz: capture.sampleRateHz }
      this.deviceId = microphone.deviceId
      this.#inputLevels = new InputLevels(capture.sampleRateHz)
      this.#sinceShownS = shownEveryS
      await this.#firstPiece()
      if (mine === this.#turn) await this.#list()
    } catch (error) {
      if (mine !== this.#turn) return
      this.turnOff()
      // A device that is not there any more is not asked for again.
      if (error instanceof MicrophoneError && error.kind === 'gone') this.deviceId = ''
      const kind = error instanceof MicrophoneError ? error.kind : 'failed'
      this.problem = { kind, reason: error instanceof Error ? error.message : String(error) }
    }
  }

  /** How many channels the input has is known with its first sound: until then it is not on. */
  async #firstPiece(): Promise<void> {
    const first = new Promise<void>((resolve) => {
      this.#begun = resolve
    })
    try {
      await withTimeLimit(first, soundLimitsS.waking, '')
    } catch {
      throw new MicrophoneError('taken')
    }
  }

  /** Lets the microphone go; a recording that goes on is dropped. */
  turnOff(): void {
    this.#turn++
    this.#begun()
    this.#capture?.end()
    this.#capture = undefined
    this.#inputLevels = undefined
    this.#store = undefined
    this.#take = undefined
    this.microphone = undefined
    this.levels = []
    this.isOneTwice = false
    this.phase = 'off'
    if (holder === this) holder = undefined
  }

  /** @param inputs  which channels of the input are recorded, from 0, in the order of the recording */
  record(inputs: readonly number[]): void {
    const { microphone } = this
    if (this.phase !== 'on' || !microphone) return
    this.#store = new SampleStore({ sampleRateHz: microphone.sampleRateHz, inputs })
    this.#take = this.#ask && new RunningTake(this.#store, this.#ask)
    this.running = undefined
    this.isUnjudged = false
    this.elapsedS = 0
    this.hiddenS = 0
    this.#lastPieceMs = 0
    this.#hiddenSinceMs = undefined
    this.problem = undefined
    this.phase = 'recording'
  }

  /** Ends the recording, lets the microphone go and hands on what there is. */
  finish(ended: RecordingEnd = 'reader'): void {
    const [store, microphone] = [this.#store, this.microphone]
    this.turnOff()
    if (!store || !microphone) return
    if (store.frameCount === 0) {
      if (ended === 'closed') return
      this.problem = { kind: 'gone', reason: '' }
      return
    }
    const isProcessed = Object.values(microphone.processing).includes('on')
    this.#onRecorded({ wav: store.wav().file, durationS: store.durationS, ended, isProcessed })
  }

  #hear({ channels, timeMs }: CapturedPiece): void {
    const frames = channels[0]?.length ?? 0
    const rateHz = this.microphone?.sampleRateHz
    if (!rateHz || !this.#inputLevels) return
    this.#inputLevels.push(channels)
    this.onPiece?.({ channels, timeMs })
    if (this.#store) this.#keep({ channels, timeMs }, frames / rateHz)
    if (!this.#inputLevels) return
    this.#sinceShownS += frames / rateHz
    if (this.#sinceShownS < shownEveryS) return
    this.#sinceShownS = 0
    this.levels = this.#inputLevels.levels()
    this.isOneTwice = this.#inputLevels.isOneTwice
    if (this.phase === 'opening') {
      this.phase = 'on'
      this.#begun()
    }
    if (this.isOneTwice && this.#store?.channelCount === 2) {
      // Their difference would be nothing, and no measurement.
      this.turnOff()
      this.problem = { kind: 'twice', reason: '' }
      return
    }
    this.elapsedS = this.#store?.durationS ?? 0
    void this.#judge()
  }

  /** A piece of the recording; the one that fills it ends it. */
  #keep({ channels, timeMs }: CapturedPiece, lastsS: number): void {
    const gapS = this.#lastPieceMs === 0 ? 0 : (timeMs - this.#lastPieceMs) / 1000 - lastsS
    this.#lastPieceMs = timeMs
    // What came after a gap does not belong to what came before.
    if (gapS > longestGapS) this.finish('held')
    else {
      this.#store?.push(channels)
      if (this.#store?.isFull) this.finish('limit')
    }
  }

  async #judge(): Promise<void> {
    const take = this.#take
    if (!take || this.#judging || this.isUnjudged) return
    this.#judging = true
    try {
      const running = await take.next()
      if (running && take === this.#take) this.running = running
    } catch {
      if (take === this.#take) this.isUnjudged = true
    } finally {
      this.#judging = false
    }
  }

  #lose(kind: 'gone' | 'held'): void {
    if (this.phase === 'recording') {
      this.finish(kind)
      return
    }
    this.turnOff()
    if (kind === 'gone') this.deviceId = ''
    this.problem = { kind: kind === 'gone' ? 'gone' : 'hidden', reason: '' }
    void this.#list()
  }

  /** A page out of sight does not listen, unless it records. */
  #see(isHidden: boolean): void {
    if (this.phase === 'on' && isHidden) {
      this.turnOff()
      this.problem = { kind: 'hidden', reason: '' }
    }
    if (this.phase !== 'recording') return
    if (isHidden) this.#hiddenSinceMs = Date.now()
    else if (this.#hiddenSinceMs !== undefined) {
      this.hiddenS += (Date.now() - this.#hiddenSinceMs) / 1000
      this.#hiddenSinceMs = undefined
    }
  }

  async #list(): Promise<void> {
    this.devices = await this.#device.list()
    if (this.phase === 'off' && !this.devices.some(({ deviceId }) => deviceId === this.deviceId)) this.deviceId = ''
  }
}

function letGo({ stream }: OpenMicrophone): void {
  for (const track of stream.getTracks()) track.stop()
}
