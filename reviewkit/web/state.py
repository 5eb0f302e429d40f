"""What every part of the page shares while the program runs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from fastapi.responses import HTMLResponse
from jinja2 import Environment

from reviewkit.cautions import CAUTIONS
from reviewkit.store import Store
from reviewkit.web.batches import Batches
from reviewkit.web.concluded import ConcludedCache
from reviewkit.web.heard import HeardCache
from reviewkit.web.jobs import Jobs


@dataclass(frozen=True, slots=True)
class PageState:
    """The store, what was heard and concluded lately, reviews in the making, screens, the secret.

    ``secret`` is the token that every form carries in its hidden field ``form_token`` (a
    script may send it as the header ``X-Form-Token``); it is new at each start.
    """

    store: Store
    heard: HeardCache
    concluded: ConcludedCache
    jobs: Jobs
    batches: Batches
    screens: Environment
    secret: str

    def render(self, name: str, *, status: int = 200, **values: Any) -> HTMLResponse:
        """Fill a screen; each one knows ``form_token`` and ``cautions`` besides its values."""
        screen = self.screens.get_template(name)
        text = screen.render(form_token=self.secret, cautions=CAUTIONS, **values)
        return HTMLResponse(text, status_code=status)
