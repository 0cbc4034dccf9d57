"""Speeds, feeds, passes."""

ORDER = (
    "turning", "pass_plan", "facing", "parting", "centre_drilling", "drilling", "reaming", "tapping_drill", "push_off",
    "tool_life",
)  # fmt: skip
