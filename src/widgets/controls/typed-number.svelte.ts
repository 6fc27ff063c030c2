import { type Measure, typedProblem } from '../../words/measures.ts'

/** A number that can be typed: what stands in its field, and why what was typed is not taken. */
export type TypedOptions = {
  measure: Measure
  value: number
  /** What is allowed; without it the owner takes whatever is read, NaN included, and says itself what is wrong. */
  range?: { min: number; max: number } | undefined
  /** What else may be wrong with a value in the range; undefined for a good one. */
  check?: ((value: number) => string | undefined) | undefined
  onvalue: (value: number) => void
}

/**
 * The text of one number field. What is typed stays as it is while it is what the value came from, and while it is refused: then
 * the value stays, too, and `problem` says what is allowed.
 */
export class TypedNumber {
  readonly #options: () => TypedOptions
  /** What was typed, the value and the unit at that time, and why it was refused. */
  #typed: { text: string; value: number; unit: string; problem: string } | undefined = $state.raw()

  constructor(options: () => TypedOptions) {
    this.#options = options
  }

  #current = $derived.by(() => {
    const { value, measure } = this.#options()
    return this.#typed && Object.is(this.#typed.value, value) && this.#typed.unit === measure.unit
      ? this.#typed
      : undefined
  })
  text = $derived.by(() => {
    const { value, measure } = this.#options()
    return this.#current?.text ?? measure.write(value)
  })
  problem = $derived.by(() => this.#current?.problem ?? '')

  /** Takes a text over, or refuses it. */
  take(text: string): void {
    const { measure, range, check, value: before, onvalue } = this.#options()
    const { unit } = measure
    const read = measure.read(text)
    const value = range && Number.isFinite(read) ? Math.min(range.max, Math.max(range.min, read)) : read
    const problem = (range && typedProblem(read, measure, range)) ?? (Number.isNaN(read) ? undefined : check?.(value))
    if (problem) {
      this.#typed = { text, value: before, unit, problem }
      return
    }
    onvalue(value)
    // The owner may round; what the reader wrote stays only while it is what the field now holds.
    this.#typed = { text, value: this.#options().value, unit, problem: '' }
  }

  /** The reader leaves the field: a good number is written as the page writes it. */
  leave(): void {
    if (!this.#typed?.problem && Number.isFinite(this.#options().value)) this.#typed = undefined
  }

  /** Forgets what was typed. */
  forget(): void {
    this.#typed = undefined
  }
}
