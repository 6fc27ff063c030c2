// A lesson asks first: what comes after the guess waits until the reader has seen the answer or reads on without guessing.
// Whoever did so before, or follows a link into the lesson, has all of it. Folds that a link points into open. Runs before the
// lesson is painted.
;(() => {
  const { lesson } = document.currentScript.dataset
  const root = document.documentElement
  /** The same list as state/opened.ts keeps. */
  const key = 'round-the-back.opened'
  const names = () => {
    try {
      const kept = JSON.parse(localStorage.getItem(key) ?? '[]')
      return Array.isArray(kept) ? kept : []
    } catch {
      return []
    }
  }
  // A page of the course without a guess has no name here, and nothing waits on it.
  if (lesson && !location.search && !location.hash && !names().includes(lesson)) root.dataset.guessFirst = 'on'

  const readOn = () => {
    if (!root.dataset.guessFirst) return
    delete root.dataset.guessFirst
    try {
      localStorage.setItem(key, JSON.stringify([...names(), lesson]))
    } catch {
      // Storage blocked or full: the lesson asks again the next time.
    }
  }
  const openAround = (id) => {
    for (let at = id && document.getElementById(id); at; at = at.parentElement)
      if (at.localName === 'details') at.open = true
  }
  const target = () => decodeURIComponent(location.hash.slice(1).split('&')[0])

  document.addEventListener('guess-shown', readOn)
  // Before the browser goes there: what is not shown cannot be gone to.
  document.addEventListener(
    'click',
    ({ target: pressed }) => {
      const link = pressed instanceof Element && pressed.closest('main a[href^="#"]')
      if (!link) return
      readOn()
      openAround(decodeURIComponent(link.hash.slice(1)))
    },
    true,
  )
  addEventListener('hashchange', () => {
    readOn()
    openAround(target())
  })
  document.addEventListener('DOMContentLoaded', () => {
    for (const name of new URLSearchParams(location.search).keys()) openAround(`figure-${name.split('.')[0]}`)
    if (!location.hash) return
    openAround(target())
    document.getElementById(target())?.scrollIntoView()
  })
})()
