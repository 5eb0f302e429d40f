"""How far out a time call is where one stamp covers many words, fitted on labelled classes.

``python -m tests.fit.fit_calls --write`` makes the numbers. The error of a call is
``BY_CLOCK`` times what the clock makes of it, plus ``BY_WORDS`` times what the words make
of it, plus ``BIAS_MS``; a call is wrong from ``WRONG_FROM_MS`` on, and ``BY_UNSURE`` times
as far again as the moment of the call and the end of its interval may be off; ``OWNED_MS``
less far out where the coach owns up to it.
"""

BY_CLOCK = 0.276
BY_WORDS = 0.224
BIAS_MS = 969
BY_UNSURE = 0.10
OWNED_MS = 2500
WRONG_FROM_MS = 3651
