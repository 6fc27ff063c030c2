// What was recorded in this visit, so that it can be saved, and what the reader chose of the inputs, for all steps alike.

import type { PartName, PlaceName } from './kept-test.ts'
import type { RecordingEnd } from './recorder.svelte.ts'

export type RecordedFile = {
  step: PartName
  /** Both places at once, or one of them. */
  wanted: 'both' | PlaceName
  file: File
  durationS: number
  ended: RecordingEnd
}

export class Recordings {
  /** The microphone in front is this channel of the input, from 0: the same in every step. */
  frontInput: 0 | 1 = $state(0)
  /** Of an input with two channels: both at once, or one microphone in turns. */
  manner: 'both' | 'turns' = $state('both')
  deviceId = $state('')
  #files: RecordedFile[] = $state.raw([])

  /** The newest recording of a step's place takes the place of the one before. */
  add(recorded: RecordedFile): void {
    const { step, wanted } = recorded
    const rest = this.#files.filter((each) => each.step !== step || (wanted !== 'both' && each.wanted !== wanted))
    this.#files = [...rest, recorded]
  }

  /** Of a step: all that there are, in front first. */
  of(step: PartName): RecordedFile[] {
    const order = ['both', 'front', 'behind']
    return this.#files
      .filter((each) => each.step === step)
      .sort((a, b) => order.indexOf(a.wanted) - order.indexOf(b.wanted))
  }

  /** Of a part: those that its levels come from. */
  takenBy(name: PartName, { front, behind }: Record<PlaceName, { name: string } | null>): RecordedFile[] {
    return this.of(name).filter(({ file }) => file.name === front?.name || file.name === behind?.name)
  }

  clear(): void {
    this.#files = []
  }
}
