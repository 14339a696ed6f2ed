class Problem(NamedTuple):
    """What is wrong with one value: a stable code, the point, and a message."""

    code: str
    path: str
    message: str


class ImageError(ValueError):
    """Carries every problem found, not only the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: Tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(f"{code} {path}: {message}" for code, path, message in self.problems))


@dataclass(frozen=True)
class _Point:
    name: str  # as the station names it
    attribute: str  # its name in the dataclass
    at: Tuple[int, ...]  # image bytes of the integer that holds it, least significant first
    shift: int  # its lowest bit in that integer
    bits: int
    code: str  # how the bits stand for counts
    counts: Tuple[int, int] = (0, 1)  # smallest and largest
    to_value: Optional[Callable[[float], float]] = None
    to_counts: Optional[Callable[[float], float]] = None
    limits: Optional[Tuple[float, float]] = None  # what encode accepts, in value units
    special: Tuple[Tuple[float, str], ...] = ()  # counts that are a report and no measurement
    health: Tuple[Tuple[float, str], ...] = ()  # counts up to each, and what they say
    otherwise: str = "none"  # what the counts beyond say


def _decode(points: Iterable[_Point], length: int, image: Image) -> Dict[str, Any]:
    _check_length(image, length)
    return {point.attribute: _value(point, _read(point, image)) for point in points}


def _decode_raw(points: Iterable[_Point], length: int, image: Image) -> Dict[str, Raw]:
    _check_length(image, length)
    return {point.name: _raw(point, _read(point, image)) for point in points}


def _judge(points: Iterable[_Point], length: int, image: Image) -> Dict[str, str]:
    _check_length(image, length)
    return {point.name: _health(point, _read(point, image)) for point in points}


def _encode(points: Iterable[_Point], length: int, values: object) -> bytes:
    given = [(point, getattr(values, point.attribute)) for point in points]
    return bytes(_write_all(bytearray(length), given, _pattern_of_value, []))


def _encode_raw(points: Sequence[_Point], length: int, raw: Mapping[str, Raw]) -> bytes:
    missing = [
        Problem("value.missing", point.name, "is missing; every point is needed")
        for point in points
        if point.name not in raw
    ]
    given, unknown = _chosen(points, raw)
    return bytes(_write_all(bytearray(length), given, _pattern_of_raw, unknown + missing))


def _patch(points: Sequence[_Point], length: int, image: bytearray, values: Mapping[str, Value]) -> None:
    _check_length(image, length)
    given, unknown = _chosen(points, values)
    _write_all(image, given, _pattern_of_value, unknown)


def _check_length(image: Image, length: int) -> None:
    if len(image) != length:
        raise ImageError([Problem("image.length", "image", f"has {len(image)} bytes, not {length}")])


def _chosen(
    points: Sequence[_Point], values: Mapping[str, Any]
) -> Tuple[List[Tuple[_Point, Any]], List[Problem]]:
    names = {point.name for point in points}
    unknown = [
        Problem("value.unknown", ascii(name), "is no point of this image") for name in values if name not in names
    ]
    return [(point, values[point.name]) for point in points if point.name in values], unknown


def _write_all(
    image: bytearray,
    given: Iterable[Tuple[_Point, Any]],
    pattern_of: Callable[[_Point, Any], Union[int, Problem]],
    problems: List[Problem],
) -> bytearray:
    """Checks everything, then writes: what fails leaves the image as it was."""
    patterns: List[Tuple[_Point, int]] = []
    for point, value in given:
        pattern = pattern_of(point, value)
        if isinstance(pattern, Problem):
            problems.append(pattern)
        else:
            patterns.append((point, pattern))
    if problems:
        raise ImageError(problems)
    for point, pattern in patterns:
        _write(point, image, pattern)
    return image


def _read(point: _Point, image: Image) -> int:
    return (_whole(point, image) >> point.shift) & ((1 << point.bits) - 1)


def _write(point: _Point, image: bytearray, pattern: int) -> None:
    mask = ((1 << point.bits) - 1) << point.shift
    whole = (_whole(point, image) & ~mask) | (pattern << point.shift)
    for k, position in enumerate(point.at):
        image[position] = (whole >> (8 * k)) & 0xFF


def _whole(point: _Point, image: Image) -> int:
    return sum(image[position] << (8 * k) for k, position in enumerate(point.at))


def _value(point: _Point, pattern: int) -> Value:
    if point.code == "boolean":
        return pattern == 1
    counts = _counts(point, pattern)
    return counts if point.to_value is None else point.to_value(counts)


def _raw(point: _Point, pattern: int) -> Raw:
    if point.code == "boolean":
        return pattern == 1
    if point.code == "real":
        return pattern
    counts = _counts(point, pattern)
    return f"16#{pattern:X}" if math.isnan(counts) else counts


def _health(point: _Point, pattern: int) -> str:
    if point.code == "boolean":
        return "none"
    counts = _counts(point, pattern)
    if not math.isfinite(counts):
        return "invalid"
    for special, health in point.special:
        if counts == special:
            return health
    for up_to, health in point.health:
        if counts <= up_to:
            return health
    return point.otherwise


def _counts(point: _Point, pattern: int) -> Union[int, float]:
    half = 1 << (point.bits - 1)
    if point.code == "real":
        return _real(pattern, point.bits)
    if point.code == "twosComplement":
        return pattern - 2 * half if pattern >= half else pattern
    if point.code == "offsetBinary":
        return pattern - half
    if point.code == "signMagnitude":
        return pattern if pattern < half else -0.0 if pattern == half else half - pattern
    if point.code == "bcd":
        digits = f"{pattern:x}"
        return int(digits) if digits.isdecimal() else math.nan
    return pattern


def _pattern_of_value(point: _Point, value: Any) -> Union[int, Problem]:
    if point.code == "boolean":
        if isinstance(value, bool):
            return int(value)
        return Problem("value.type", point.name, f"must be True or False, not {value!r}")
    if not _is_number(point, value):
        return Problem("value.type", point.name, f"must be a finite number, not {value!r}")
    if point.limits is not None and not point.limits[0] <= value <= point.limits[1]:
        return Problem("value.limits", point.name, f"must be {point.limits[0]} to {point.limits[1]}, not {value!r}")
    counts = value
    if point.to_counts is not None:
        counts = point.to_counts(float(value))
        if point.code != "real" and math.isfinite(counts):
            counts = round(counts)  # ties to even
    pattern = _pattern_of_counts(point, counts)
    if pattern is None:
        span = "finite" if point.code == "real" else f"whole, {point.counts[0]} to {point.counts[1]}"
        return Problem("value.range", point.name, f"{value!r} stands for {counts!r} counts, which must be {span}")
    if any(counts == special for special, _ in point.special):
        return Problem("value.special", point.name, f"{value!r} stands for counts that report a fault; encode them raw")
    return pattern


def _pattern_of_raw(point: _Point, raw: Any) -> Union[int, Problem]:
    pattern: Optional[int] = None
    if point.code == "boolean":
        if isinstance(raw, bool):
            return int(raw)
        return Problem("value.type", point.name, f"must be True or False, not {raw!r}")
    if point.code == "bcd" and isinstance(raw, str):
        digits = raw[3:].lower()
        if raw.startswith("16#") and 0 < len(digits) <= 16 and set(digits) <= set("0123456789abcdef"):
            pattern = int(digits, 16)
    elif isinstance(raw, (int, float)) and not isinstance(raw, bool):
        pattern = raw if point.code == "real" and isinstance(raw, int) else None
        if point.code != "real":
            pattern = _pattern_of_counts(point, raw)
    if pattern is None or not 0 <= pattern < 1 << point.bits:
        return Problem("value.range", point.name, f"has no pattern of {point.bits} bits for {raw!r}")
    return pattern


def _is_number(point: _Point, value: Any) -> bool:
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return False
    if point.bits > 53 and point.code != "real":
        return isinstance(value, int) or _is_minus_zero(value)
    try:
        return math.isfinite(value)
    except OverflowError:
        return False


def _is_minus_zero(value: Union[int, float]) -> bool:
    return isinstance(value, float) and value == 0 and math.copysign(1, value) < 0


def _pattern_of_counts(point: _Point, counts: Union[int, float]) -> Optional[int]:
    """The pattern of counts, or None where the code has none for them."""
    if point.code == "real":
        return _pattern_of_real(float(counts), point.bits)
    half = 1 << (point.bits - 1)
    if point.code == "signMagnitude" and _is_minus_zero(counts):
        return half
    if isinstance(counts, float):
        if point.bits > 53 or not counts.is_integer():
            return None
        counts = int(counts)
    if not point.counts[0] <= counts <= point.counts[1]:
        return None
    if point.code == "twosComplement":
        return counts & (2 * half - 1)
    if point.code == "offsetBinary":
        return counts + half
    if point.code == "signMagnitude":
        return half - counts if counts < 0 else counts
    if point.code == "bcd":
        return int(str(counts), 16)
    return counts


# IEEE 754: bits of the exponent and of the fraction, by width.
_REALS = {32: (8, 23), 64: (11, 52)}


def _real(pattern: int, bits: int) -> float:
    exponent_bits, fraction_bits = _REALS[bits]
    special = (1 << exponent_bits) - 1
    exponent = (pattern >> fraction_bits) & special
    fraction = pattern & ((1 << fraction_bits) - 1)
    lowest = 2 - (1 << (exponent_bits - 1)) - fraction_bits  # power of two of the smallest subnormal
    if exponent == special:
        size = math.nan if fraction else math.inf
    elif exponent == 0:
        size = math.ldexp(fraction, lowest)
    else:
        size = math.ldexp(fraction + (1 << fraction_bits), lowest + exponent - 1)
    return -size if pattern >> (bits - 1) else size


def _pattern_of_real(value: float, bits: int) -> Optional[int]:
    """The pattern nearest to a value, ties to even; None for what is not finite or overflows."""
    if not math.isfinite(value):
        return None
    exponent_bits, fraction_bits = _REALS[bits]
    lowest = 2 - (1 << (exponent_bits - 1)) - fraction_bits
    power = lowest if value == 0 else max(math.frexp(value)[1] - 1 - fraction_bits, lowest)
    steps = round(math.ldexp(abs(value), -power))
    # A normal number has its leading bit in `steps`, where it counts one into the exponent.
    pattern = ((power - lowest) << fraction_bits) + steps
    if pattern >= ((1 << exponent_bits) - 1) << fraction_bits:
        return None
    return pattern | (1 << (bits - 1)) if math.copysign(1, value) < 0 else pattern


def _root(x: float) -> float:
    return -math.sqrt(-x) if x < 0 else math.sqrt(x)


def _square(x: float) -> float:
    return -(x * x) if x < 0 else x if x == 0 else x * x
