import { type AuditionSignal, auditionSignals } from '../../sound/audition-types.ts'

type Choice = { signal?: AuditionSignal; level?: 'true' | 'matched' }

/** The figure that plays by itself; what it plays is no choice of the page's. */
const ownPlayer = 'blind.'

/** What a link chooses for the sound of its page: what all figures agree on that it says something of. */
export function linkedChoice(params: URLSearchParams): Choice {
  const said = (field: string) => {
    const values = [...params].filter(([key]) => key.endsWith(`.${field}`) && !key.startsWith(ownPlayer))
    return new Set(values.map(([, value]) => value))
  }
  const agreed = <W extends string>(field: string, words: readonly W[]): W | undefined => {
    const values = said(field)
    return values.size === 1 ? words.find((word) => values.has(word)) : undefined
  }
  const signal = agreed('signal', auditionSignals)
  const level = agreed('level', ['true', 'matched'] as const)
  return { ...(signal && { signal }), ...(level && { level }) }
}
