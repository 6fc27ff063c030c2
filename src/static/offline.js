// When everything else is there: has the browser keep the site on the device, says when it does, and has a newer version offered when one is
// there (newer-version.js, fetched then). Nothing is ever loaded anew unless the reader presses for it.
;(async () => {
  const { serviceWorker } = navigator
  // A reader who saves data gets what is read, and no more.
  if (!serviceWorker || navigator.connection?.saveData) return
  if (document.readyState !== 'complete') await new Promise((resolve) => addEventListener('load', resolve))
  let registration
  try {
    registration = await serviceWorker.register('/service-worker.js')
  } catch {
    // Storage or workers are blocked: the site works from the network as ever.
  }
  if (!registration) return
  serviceWorker.ready.then(() => {
    document.querySelector('#kept-here').hidden = false
  })
  // The first version of all is newer than none.
  const offer = async () => serviceWorker.controller && (await import('/newer-version.js')).offer(registration)
  registration.addEventListener('updatefound', offer)
  if (registration.waiting || registration.installing) offer()
})()
