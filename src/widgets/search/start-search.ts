import type { default as MiniSearch } from 'minisearch'
import { withTimeLimit } from '../../engine/workers/time-limit.ts'
import { excerptOf } from './excerpt.ts'
import * as say from './search.messages.ts'
import { type Passage, searchOptions } from './search-options.ts'

/** Passages that are shown at most. */
const mostShown = 20
/** What is searched may take this long to come, s. */
const limitS = 30

let index: Promise<MiniSearch<Passage & { id: number }>> | undefined

/** The index, fetched once; a fetch that failed is tried again. */
function fetchIndex() {
  index ??= (async () => {
    const [{ default: Search }, response] = await Promise.all([import('minisearch'), fetch('/search-index.json')])
    if (!response.ok) throw new Error(`${response.status}`)
    return Search.loadJSONAsync<Passage & { id: number }>(await response.text(), searchOptions)
  })()
  index.catch(() => (index = undefined))
  return index
}

/** Brings a search form to life: what is typed is looked for at once, and stands in the address. */
export function startSearch(form: HTMLFormElement, list: HTMLOListElement, status: HTMLElement): void {
  const field = form.querySelector('input')
  if (!field) return
  let asked = 0
  const show = async () => {
    const query = field.value.trim()
    const mine = ++asked
    const address = query ? `?q=${encodeURIComponent(query)}` : location.pathname
    history.replaceState(history.state, '', address)
    if (query === '') {
      list.replaceChildren()
      status.textContent = ''
      return
    }
    try {
      const found = (await withTimeLimit(fetchIndex(), limitS, say.index())).search(query)
      if (mine !== asked) return
      status.textContent =
        found.length > mostShown
          ? say.bestShown({ count: found.length, shown: mostShown })
          : say.found({ count: found.length })
      list.replaceChildren(...found.slice(0, mostShown).map((each) => resultOf(each as unknown as Found)))
    } catch {
      if (mine === asked) status.textContent = say.notFetched()
    }
  }
  form.addEventListener('submit', (event) => {
    event.preventDefault()
    show()
  })
  field.addEventListener('input', show)
  field.value = new URLSearchParams(location.search).get('q')?.slice(0, 200) ?? field.value
  if (field.value) show()
}

type Found = Passage & { match: Record<string, string[]> }

/** One line of the list. Everything is set as text. */
function resultOf({ page, heading, url, text, match }: Found): HTMLLIElement {
  const link = document.createElement('a')
  link.href = url
  link.textContent = heading && heading !== page ? say.inPage({ page, heading }) : page
  const excerpt = document.createElement('p')
  excerpt.append(
    ...excerptOf(text, Object.keys(match)).map((piece) => {
      if (!piece.isMark) return piece.text
      const mark = document.createElement('mark')
      mark.textContent = piece.text
      return mark
    }),
  )
  const item = document.createElement('li')
  item.append(link, excerpt)
  return item
}
