import { mount } from 'svelte'
import PlayerBar from './PlayerBar.svelte'

mount(PlayerBar, { target: document.body })
