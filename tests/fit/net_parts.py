"""What the networks of lines and of points have in common when they are trained.

Both are sums of rows of numbers for each word, seen through dilated convolutions. Stems in
few lines stand for unknown ones, and so does now and then any stem (word dropout: Iyyer
et al. 2015, "Deep unordered composition").
"""

from __future__ import annotations

from collections.abc import Sequence

import torch
from torch import Tensor, nn

from reviewkit.language.convolution import convolution_rows
from tests.fit.weight_table import rounded_rows

# Row 0 is nothing, as in the networks that are written.
UNKNOWN_ROW = 1
_FIRST_MEANING = 0.1

Rows = dict[str, tuple[float, ...]]


def first_meanings(names: int, width: int) -> nn.Embedding:
    """Begin with rows near nothing; row 0 stays nothing."""
    meanings = nn.Embedding(names + 1, width, padding_idx=0)
    nn.init.normal_(meanings.weight, 0, _FIRST_MEANING)
    with torch.no_grad():
        meanings.weight[0] = 0
    return meanings


def dilated(width: int, reaches: Sequence[int]) -> nn.ModuleList:
    """Begin with convolutions that each look so far to either side."""
    return nn.ModuleList(
        nn.Conv1d(width, width, 3, padding=reach, dilation=reach) for reach in reaches
    )


def forget(given: Tensor, share: float) -> Tensor:
    """Forget a stem now and then, and a class or sense more seldom; changes what is given."""
    is_forgotten = torch.rand(given.shape) < share
    is_stem = is_forgotten[:, :, 0] & (given[:, :, 0] > 0)
    given[:, :, 0][is_stem] = UNKNOWN_ROW
    given[:, :, 1:][is_forgotten[:, :, 1:] & (torch.rand(given[:, :, 1:].shape) < 1 / 3)] = 0
    return given


def convolutions_as_rows(layers: nn.ModuleList, width: int, digits: int) -> Rows:
    """Write convolutions as the rows that the forward pass reads."""
    rows: Rows = {}
    for (bias, names), layer in zip(
        convolution_rows(width, len(layers)).items(), layers, strict=True
    ):
        assert isinstance(layer, nn.Conv1d)
        assert layer.bias is not None
        rows |= as_rows([bias], layer.bias, digits)
        rows |= as_rows(names, layer.weight.permute(2, 1, 0), digits)
    return rows


def as_rows(names: Sequence[str], weights: Tensor, digits: int) -> Rows:
    """Name the rows of some weights, as exact as they are written."""
    return rounded_rows(names, weights.detach().reshape(len(names), -1).tolist(), digits)
