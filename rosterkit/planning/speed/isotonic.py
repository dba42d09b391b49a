"""The rising sequence that is nearest to a given one."""

from collections.abc import Sequence


def nearest_rising(values: Sequence[float], weights: Sequence[float] | None = None) -> tuple[float, ...]:
    """Return the never falling sequence with the least weighted sum of squared differences from the values.

    Pooling of adjacent violators: neighbours that fall are replaced by their weighted mean. ValueError
    unless there is one weight of more than 0 for each value.
    """
    weights = [1.0] * len(values) if weights is None else weights
    if len(weights) != len(values) or not all(weight > 0 for weight in weights):
        raise ValueError("each value needs a weight of more than 0")
    blocks: list[tuple[float, float, int]] = []
    for value, weight in zip(values, weights, strict=True):
        mean, total, count = float(value), float(weight), 1
        while blocks and blocks[-1][0] > mean:
            before, heavy, many = blocks.pop()
            mean = (mean * total + before * heavy) / (total + heavy)
            total += heavy
            count += many
        blocks.append((mean, total, count))
    return tuple(mean for mean, _, count in blocks for _ in range(count))
