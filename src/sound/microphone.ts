// The device's inputs: opened with everything off that a browser does to speech, and told what stays on.

/**
 * Why there is no microphone:
 *
 *   insecure     the page came over a connection on which browsers give none
 *   unsupported  the browser cannot record in a page
 *   refused      the reader or the device does not allow it
 *   none         there is none
 *   gone         the chosen one is not there (any more)
 *   taken        another program has it
 *   code         the part of the page that records could not be fetched
 *   failed       anything else; the message is the browser's
 */
export type MicrophoneProblem = 'insecure' | 'unsupported' | 'refused' | 'none' | 'gone' | 'taken' | 'code' | 'failed'

export class MicrophoneError extends Error {
  override readonly name = 'MicrophoneError'
  readonly kind: MicrophoneProblem

  constructor(kind: MicrophoneProblem, message: string = kind) {
    super(message)
    this.kind = kind
  }
}

/** What a browser does to the voice, and what spoils levels. */
export const processings = ['echoCancellation', 'noiseSuppression', 'autoGainControl'] as const
/** Whether it is off, kept on in spite of our asking, or the browser does not tell. */
export type ProcessingState = 'off' | 'on' | 'untold'
export type Processing = Record<(typeof processings)[number], ProcessingState>

export type OpenMicrophone = {
  stream: MediaStream
  deviceId: string
  /** Sample rate of the input, Hz; undefined if the browser does not tell. */
  sampleRateHz: number | undefined
  processing: Processing
}

/** An input to choose; its name is the device's own, '' if the browser does not tell it. */
export type MicrophoneChoice = { deviceId: string; label: string }

/**
 * Opens an input; the browser may ask the reader first.
 *
 * @param deviceId  of the input; the usual one unless given
 * @throws MicrophoneError  as a rejection
 */
export async function openMicrophone(deviceId = ''): Promise<OpenMicrophone> {
  if (!navigator.mediaDevices?.getUserMedia) {
    throw new MicrophoneError(globalThis.isSecureContext === false ? 'insecure' : 'unsupported')
  }
  if (typeof AudioWorkletNode === 'undefined') throw new MicrophoneError('unsupported')
  let stream: MediaStream
  try {
    stream = await navigator.mediaDevices.getUserMedia({
      audio: {
        ...(deviceId && { deviceId: { exact: deviceId } }),
        echoCancellation: false,
        noiseSuppression: false,
        autoGainControl: false,
        channelCount: { ideal: 2 },
      },
    })
  } catch (error) {
    throw problemOf(error)
  }
  const settings = stream.getAudioTracks()[0]?.getSettings() ?? {}
  return {
    stream,
    deviceId: settings.deviceId ?? deviceId,
    sampleRateHz: settings.sampleRate,
    processing: processingOf(settings),
  }
}

/** What the settings of an open input say of the processing. */
export function processingOf(settings: MediaTrackSettings): Processing {
  const of = (value: unknown): ProcessingState => {
    if (value === undefined) return 'untold'
    // Some browsers name a kind of echo cancelling instead of true.
    return value === false ? 'off' : 'on'
  }
  return {
    echoCancellation: of(settings.echoCancellation),
    noiseSuppression: of(settings.noiseSuppression),
    autoGainControl: of(settings.autoGainControl),
  }
}

/** What a browser's refusal means. */
function problemOf(error: unknown): MicrophoneError {
  const { name, message } = error instanceof Error ? error : { name: '', message: String(error) }
  const kinds: Record<string, MicrophoneProblem> = {
    NotAllowedError: 'refused',
    SecurityError: 'refused',
    NotFoundError: 'none',
    OverconstrainedError: 'gone',
    NotReadableError: 'taken',
    AbortError: 'taken',
  }
  return new MicrophoneError(kinds[name] ?? 'failed', message)
}

/** The inputs that there are; before the first permission browsers name none of them. Never rejects. */
export async function listMicrophones(): Promise<MicrophoneChoice[]> {
  try {
    const devices = await navigator.mediaDevices.enumerateDevices()
    return devices
      .filter(({ kind, deviceId }) => kind === 'audioinput' && deviceId !== '')
      .map(({ deviceId, label }) => ({ deviceId, label }))
  } catch {
    return []
  }
}
