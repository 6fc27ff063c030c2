// A figure that has not woken yet keeps what the reader does to it, does it when it wakes, and says so; one that does not wake
// says that. Runs before the page's own code. The words come with the script element.
;(() => {
  const { waiting, asleep, again } = document.currentScript.dataset
  /** From when a figure is seen, or first pressed, until it is said that it does not wake, ms: a slow phone on a slow line. */
  const limitMs = 20000
  /** Nothing is said of a wait that is hardly seen, ms. */
  const briefMs = 700
  /** Figure → what to do when it wakes, in order. */
  const early = new WeakMap()
  /** Figure → the line below it. */
  const notes = new WeakMap()

  const asleepAt = (target) => target instanceof Element && target.closest('astro-island[ssr]')
  const say = (figure, words, canReload) => {
    if (!figure.hasAttribute('ssr')) return
    const note = notes.get(figure) ?? document.createElement('p')
    note.className = 'waking'
    note.setAttribute('role', 'status')
    if (!notes.has(figure)) figure.after(note)
    notes.set(figure, note)
    note.textContent = words
    if (!canReload) return
    const button = document.createElement('button')
    button.type = 'button'
    button.textContent = again
    button.onclick = () => location.reload()
    note.append(' ', button)
  }
  const giveUp = (figure) => say(figure, asleep, true)

  const keep = (figure, key, redo) => {
    if (!early.has(figure)) {
      early.set(figure, [])
      setTimeout(() => notes.has(figure) || say(figure, waiting), briefMs)
      setTimeout(() => giveUp(figure), limitMs)
    }
    const kept = early.get(figure)
    // Of a field that is typed in or slid only the last counts.
    if (key && kept.at(-1)?.key === key) kept.pop()
    kept.push({ key, redo })
  }
  const onChange = ({ type, target }) => {
    const figure = asleepAt(target)
    if (!figure || (type === 'input' && target.type === 'radio')) return
    const { value, checked } = target
    keep(figure, target, () => {
      if (target.type === 'radio' || target.type === 'checkbox') target.checked = checked
      else target.value = value
      for (const name of ['input', 'change']) target.dispatchEvent(new Event(name, { bubbles: true }))
    })
  }
  const onClick = ({ target }) => {
    const figure = asleepAt(target)
    const pressed = figure && target.closest('button, summary')
    if (!pressed) return
    if (pressed.localName === 'button') return keep(figure, undefined, () => pressed.click())
    // A fold opens by itself already; waking folds it again.
    const fold = pressed.parentElement
    const isOpen = !fold.open
    keep(figure, fold, () => {
      fold.open = isOpen
    })
  }
  const onKey = (event) => {
    const { target, key } = event
    const figure = asleepAt(target)
    if (!figure || target.getAttribute('role') !== 'slider' || !/^(Arrow|Page|Home|End)/.test(key)) return
    event.preventDefault()
    keep(figure, undefined, () => target.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true })))
  }

  document.addEventListener('click', onClick, true)
  document.addEventListener('input', onChange, true)
  document.addEventListener('change', onChange, true)
  document.addEventListener('keydown', onKey, true)
  document.addEventListener('astro:hydration-error', ({ target }) => giveUp(target))
  document.addEventListener(
    'astro:hydrate',
    ({ target: figure }) => {
      notes.get(figure)?.remove()
      // The figure takes over its link first.
      setTimeout(() => {
        for (const { redo } of early.get(figure) ?? []) redo()
        early.delete(figure)
      })
    },
    true,
  )
  document.addEventListener('DOMContentLoaded', () => {
    const seen = new IntersectionObserver((entries) => {
      for (const { isIntersecting, target } of entries) {
        if (!isIntersecting) continue
        seen.unobserve(target)
        setTimeout(() => giveUp(target.closest('astro-island')), limitMs)
      }
    })
    // The island itself has no box; what stands in it has.
    for (const figure of document.querySelectorAll('astro-island[ssr] > *')) seen.observe(figure)
  })
})()
