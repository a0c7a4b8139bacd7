"""The result as a whole. The callout is invented."""

from advisor import Callout, assess

HOT = """
callout: hot
structure: {kind: basement}
visits: [{date: 2031-04-16}]
leaks:
  - leak: L1
    findings: {surface-temperature: 60 °C, air-temperature: AIR °C, air-humidity: 50 %}
"""


def test_a_formula_outside_its_validity_is_remarked_and_says_nothing() -> None:
    """The dew point formula holds up to 60 °C of air."""
    inside = assess(Callout.parse(HOT.replace("AIR", "59"), "hot.yaml"))
    outside = assess(Callout.parse(HOT.replace("AIR", "75"), "hot.yaml"))
    assert inside.remarks == ()
    (remark,) = outside.remarks
    assert (remark.file, remark.key) == ("hot.yaml", "dew-point")
    assert "surface temperature above the dew point" in remark.message
    assert "holds from -45 to 60 °C" in remark.message

    assert "attribute='dew-margin'" in str(inside.leaks)
    assert "attribute='dew-margin'" not in str(outside.leaks)
