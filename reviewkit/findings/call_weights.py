"""How far out a time call is where one stamp covers many words, fitted on labelled classes.

``python -m tests.fit.fit_calls --write`` makes the numbers. The error of a call is
``BY_CLOCK`` times what the clock makes of it, plus ``BY_WORDS`` times what the words make
of it, plus ``BIAS_MS``; a call is wrong from ``WRONG_FROM_MS`` on.
"""

BY_CLOCK = 0.316
BY_WORDS = 0.347
BIAS_MS = 1290
WRONG_FROM_MS = 5513
