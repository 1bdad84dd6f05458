"""The quiz: a simulated faulty car, free choice of acts, and a score that judges decisions, not luck. Pure.

A round is a fold, as a walk is: `state = fold(round, events)`. The map:

| module | what |
| --- | --- |
| `modes` | practice, guided, exam as data (`Mode`, `mode_of`, `exam_seeds`); what a hint costs |
| `choices` | what a trainee may choose (`Choice`, `Kind`); `read_choice("correct hot-contact 80")` reads its text |
| `round` | `deal(walk, seed, mode, cause=None)` gives a `Round`, `resume(library, dealt)` again |
| `events` | what happened; `Dealt` first. `event_json`: to plain data and back, for storage |
| `state` | `start`, `step`, `fold`: where the round stands (`ended` once it is over) |
| `respond` | `respond(round, state, choice)`: the event that a choice leads to |
| `permitted` | asked before every act: may it be done (the safety predicate), is it impossible, is it unsafe |
| `consequence` | what an unsafe act leads to on a real car, and the cautions passed by |
| `showing` | the car's readings, judged as a walk judges them |
| `way` | the way to an act: the move that it still needs, and whether something done lies on it |
| `hint` | the best act now, and why; what it told stands in `state.word` until it is done |
| `guide` | the tree's next act, and why (guided rounds) |
| `score` | the regret of one decision (`decision`) or of all (`judged`) |
| `result` | `account(round, events)`: paid, expected, regrets, luck, points, the dearest decision; `sureness`: Brier |
| `choosing` | which complaint and car, where nothing was said |
| `trainees` | simulated trainees (`best`, `greedy`, `tree_follower`, `random`); `yardstick`: what one had spent |

A round in a few lines:

    played = deal(Walk.begin(library, "ac-fails-dc-works", "petrel-2"), seed="7")
    events = [played.dealt]
    state = start(played)
    while state.ended is None:
        event = respond(played, state, read_choice(input()))      # AnswerError: tell it, ask again
        events.append(event); state = step(played, state, event)
    told = account(played, events, allow=one_second)              # `allow()` returns an `out_of_time`

Searches for strategies take as long as they are allowed: a shell hands in `out_of_time`, the core reads no clock.
`docs/quiz.md` tells the rules in words.
"""
