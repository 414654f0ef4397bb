"""A simulated tank that behaves like one: to rehearse a purge on, before there is beer above the port.

A picture for learning and no prediction; ``methods.md`` says what is reckoned and what is only chosen. All of it is
pure, in both languages, and plain JSON. SI units throughout; pressures are gauge unless a name says absolute.

    state = begin(scenario, seed)        # model.py; a scenario as scenarios() or own_tank() gives it, any text as seed
    state = act(state, {"act": "isolation", "to": 1.0})     # acts.py; at once
    state = step(state)                  # model.py; a twentieth of a second, STEP
    seen(state)                          # seen.py; what a hand can see and hear, nothing that it cannot
    state["happened"]                    # [{"t", "happened": code, "facts": {name: SI number or word}}], ever longer
    done(state, scenario["done"])        # seen.py; [{"done": code, "met": bool}] of what counts as done
    play(scenario, seed, acts, None)     # play.py; {"events", "course", "state"} of a scripted run

A host calls ``step`` as often as time says: 20 a second, whatever the frame rate. A state that was kept is a place to
go back to: ``step`` and ``act`` change none that they were given. The kept state to go back to before a mistake is one
of before its ``t``.

Acts, each a row: ``{"act": name, "to": where}``, in a script with its ``"t"``.

    isolation, flow-valve    to: how far open, 0 to 1
    gas                      to: true or false, the gas line's valve
    regulator                to: Pa
    vent, blow-off           to: how far open, 0 to 1; the vent at the top, the valve of the blow-off pipe
    pipe-end                 to: "in", "clear"; the blow-off pipe's end in its bucket of liquid, or lifted out of it
    hose                     to: "bucket", "drain", "loose"
    bucket                   to: "emptied"
    outer                    to: "open", "stack", "cap"; the outer clamp: opened, with the stack hung, with the cap on
    tank-side                to: "open", "closed"; the clamp that is never opened
    bleed                    to: true or false; the bleed below the isolation valve
    connector                to: "gas"; the air in the stack that hangs is driven out with CO2
    glass                    to: "cleared"; a packed glass is cleaned, once it is off
    gauge                    to: "tapped"
    away                     to: true or false; the hand is somewhere else: a phone call, an alarm

An act that cannot be done now leaves all as it is and adds ``cannot`` to what happened, with its reason.

Codes of what happens are the rows of ``happened.toml``: which are mistakes, their signal word, their emergency card.
The words are in ``wording/en/rehearsal.toml``: what happened, and what would have stopped it. The browser has scenarios
and codes from ``js/rehearsal/declared.js``: ``scenarios``, ``happened``, and ``facts``, the kind of each number.
"""
