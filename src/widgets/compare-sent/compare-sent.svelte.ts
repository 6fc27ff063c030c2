import type { LengthUnit } from '../../state/preferences.ts'
import type { LinkSchema } from '../../state/share-link.ts'
import type { LevelledRecording } from '../compare/matched-pair.ts'
import { LiveFigure } from '../figure/live-figure.svelte.ts'
import { unitsField } from '../figure/units-field.ts'
import { type Letter, readLetter } from './letter.ts'

type SentState = { units: LengthUnit | 'own' }

/** What a link may say beside the measurement, which stands after #. */
const sentLink: LinkSchema<SentState> = { name: 'sent', version: 1, fields: { units: unitsField } }

/** Whether what stands after # is a place of the page, to which a reader has jumped, and no measurement. */
const isPlace = (text: string) => text !== '' && document.getElementById(text) !== null

/** A measurement that somebody sent: read out of the address, its sentence computed here. */
export class SentComparison extends LiveFigure<SentState> {
  letter: Letter | undefined = $state.raw()
  /** Why what stands in the address cannot be shown, or ''. */
  refused = $state('')

  readonly told

  constructor() {
    super(sentLink, { units: 'own' })
    this.told = this.asks('sentAnswer', () => this.letter && { sent: this.letter.test }, {
      what: 'verdict',
      about: () => this.letter,
    })
  }

  override start(): () => void {
    const end = super.start()
    this.#read()
    const follow = () => this.#read()
    addEventListener('hashchange', follow)
    return () => {
      removeEventListener('hashchange', follow)
      end()
    }
  }

  #read(): void {
    const text = location.hash.slice(1)
    if (isPlace(text)) return
    const read = text === '' ? undefined : readLetter(text)
    this.refused = typeof read === 'string' ? read : ''
    this.letter = typeof read === 'string' ? undefined : read
  }

  /** Noise with the levels of both places, made when it is first wanted; undefined if none was measured. */
  async noise(): Promise<LevelledRecording[] | undefined> {
    const { letter } = this
    const made = letter && (await this.engine?.ask('sound sent', 'sentNoise', { sent: letter.test }))
    if (!made) return undefined
    const { sampleRateHz, front, behind } = made
    return [front, behind].map((place) => ({ sampleRateHz, ...place }))
  }
}
