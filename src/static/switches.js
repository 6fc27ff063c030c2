// On a page without figures: the switches in the header show how things stand, and their code comes when it is wanted.
;(() => {
  const held = document.querySelector('#switches-code')
  const { theme, units, temperatureC, humidityPct } = document.documentElement.dataset
  const shown = theme ?? (matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light')
  document.querySelector('#units-switch').setAttribute('aria-pressed', String(units === 'ft'))
  const themeSwitch = document.querySelector('#theme-switch')
  themeSwitch.setAttribute('aria-pressed', String(shown === 'dark'))
  themeSwitch.dataset.shown = shown

  // Something of a sender's is enclosed with the address.
  const isSent = () => /[#&]with=/.test(location.hash)

  let state = 'asleep'
  let pressed = []
  const wake = () => {
    if (state !== 'asleep') return
    state = 'waking'
    const script = document.importNode(held.content, true).querySelector('script')
    script.onload = () => {
      state = 'awake'
      for (const button of pressed) button.click()
    }
    script.onerror = () => {
      state = 'asleep'
      pressed = []
      script.remove()
      const notice = document.querySelector('#page-notice')
      notice.textContent = notice.dataset.notFetched
    }
    document.body.append(script)
  }
  for (const button of document.querySelectorAll('.switches button')) {
    button.addEventListener('click', () => {
      if (state === 'awake') return
      pressed.push(button)
      wake()
    })
  }
  addEventListener('storage', wake)
  addEventListener('pageshow', ({ persisted }) => persisted && wake())
  addEventListener('hashchange', () => isSent() && wake())
  const isUsualAir = held.dataset.usualAir === `${temperatureC},${humidityPct}`
  if (units === 'ft' || !isUsualAir || /[?&]air=/.test(location.search) || isSent()) wake()
})()
