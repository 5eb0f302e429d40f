"""Say how far two frames speak of the same thing, in a way that is a matter of form."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from reviewkit.frames.grammar import Frame
from reviewkit.language.wordsets import word_set

# Parts for which an axis is a matter of form, region by region; the phases of breath too.
_REGIONS = {
    "height": (
        "heel ball-of-foot",
        "shoulder blades",
        "chin head",
        "chest",
        "hips glutes",
        "foot",
        "arm elbow hand",
    ),
    "width": ("elbow", "knee thigh", "foot heel"),
    "distance": ("weight bar",),
    "bend": ("knee leg", "elbow arm", "wrist"),
    "curve": ("low-back back waist spine",),
    "round": ("back spine low-back",),
    "hipheight": ("hips glutes",),
    "point": ("toes heel ball-of-foot",),
    "turn": ("toes foot",),
    "gaze": ("eyes face head chin neck",),
    "breath": ("rise", "lower", "away", "home"),
    "tension": ("core", "glutes hips", "shoulder", "hand fingers weight", "arm elbow"),
    "past": ("knee",),
    "palm": ("palm hand wrist fingers",),
    "slack": ("band",),
    "lean": ("chest torso head face body back",),
    "weight": ("foot heel ball-of-foot toes",),
    "cave": ("knee",),
    "sag": ("hips glutes back body core low-back torso head heel",),
    "level": ("hips pelvis glutes",),
    "cross": ("foot leg",),
    "load": ("chair glutes hips weight",),
}
_FORM_OF = {
    axis: tuple(word_set(region) for region in regions) for axis, regions in _REGIONS.items()
}
_OF_THE_MOVE = word_set(
    "depth hold rebound load size distance swing weight travel hop sight cross palm pace lean"
    " first sole twist sit prop stack stay push noise eyes row tilt tail guard pivot lead dip rate"
)
# Axes that say by themselves what they are about, whatever part is named beside them.
_OF_ITSELF = word_set(
    "first sole twist sit prop stack stay push hop noise eyes row tilt tail guard pivot lead dip"
    " rate"
)


@dataclass(frozen=True, slots=True)
class Meeting:
    """How far two frames speak of the same thing."""

    region_close: bool
    region: bool
    part: bool
    of_the_move: bool
    unnamed: bool

    @property
    def is_close(self) -> bool:
        """Whether both name the same part close by."""
        return self.region_close or self.part

    def __bool__(self) -> bool:
        return self.is_close or self.region or (self.of_the_move and (self.unnamed or self.part))


@lru_cache(maxsize=50_000)
def _regions(axis: str, parts: frozenset[str]) -> frozenset[int]:
    """Number the regions of the body that parts lie in, as far as the axis is form there."""
    regions = _FORM_OF.get(axis, ())
    return frozenset(place for place, region in enumerate(regions) if parts & region)


def meet(one: Frame, other: Frame) -> Meeting:
    """Compare what two frames of one axis speak of; a held breath meets every phase."""
    axis = one.axis
    return Meeting(
        bool(_regions(axis, one.close) & _regions(axis, other.close)),
        "breath:held" in (one.pole, other.pole)
        or bool(_regions(axis, one.parts) & _regions(axis, other.parts)),
        bool(one.close & other.close),
        axis in _OF_THE_MOVE,
        axis in _OF_ITSELF or not one.close or not other.close,
    )
