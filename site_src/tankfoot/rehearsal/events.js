/** What happened: said once as it happens, with its instant and its numbers. Twin of events.py. */

export const STEPS_A_SECOND = 20.0;

export function timeOf(state) {
  return state.steps / STEPS_A_SECOND;
}

export function told(state, code, facts) {
  return { ...state, happened: [...state.happened, { t: timeOf(state), happened: code, facts }] };
}

export function cannot(state, reason) {
  return told(state, "cannot", { reason });
}
