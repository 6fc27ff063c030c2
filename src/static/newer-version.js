// Offers a newer version of the site once it is there (offline.js asks for it).

/** Put off for this tab. */
const key = 'round-the-back.later'
const isPutOff = () => {
  try {
    return sessionStorage.getItem(key) !== null
  } catch {
    return false
  }
}

let isReady = false

/** Shows the offer as soon as the registration has a version that waits. */
export function offer(registration) {
  const { serviceWorker } = navigator
  const [card] = document.querySelector('#newer-version').children
  const show = () => {
    if (registration.waiting && !isPutOff()) card.hidden = false
  }
  registration.installing?.addEventListener('statechange', show)
  show()
  if (isReady) return
  isReady = true

  const [load, later] = card.querySelectorAll('button')
  let isPressed = false
  // Another tab may have let the newer version in already.
  serviceWorker.addEventListener('controllerchange', () => isPressed && location.reload())
  load.onclick = () => {
    isPressed = true
    if (registration.waiting) registration.waiting.postMessage('take over')
    else location.reload()
  }
  later.onclick = () => {
    card.hidden = true
    try {
      sessionStorage.setItem(key, '1')
    } catch {
      // Storage blocked: it is offered again on the next page.
    }
  }
}
