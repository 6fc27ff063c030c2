// Tone.js prints its version on being loaded unless this flag stands; the site keeps the console empty.
// A file of its own, because imports run in order and before any other statement.
Object.assign(globalThis, { TONE_SILENCE_LOGGING: true })
