"""Random small shops in which every rule of check.md is met on both sides.

    python3 generate.py SEED FOLDER     writes one shop
    python3 generate.py --count [N]     how often each rule decided something over N shops (300)

A draft starts as a shop that could run its job; then values are laid at their limits, one step in
or one step out, and a few are left blank. The same seed always gives the same shop.
"""

import random
import sys

import cells
import draft
import draft_tools


def draft_shop(seed):
    """A whole shop from a seed."""
    shop = draft.Draft(seed)
    draft.draft_settings(shop)
    draft.draft_time(shop)
    draft.draft_label(shop)
    draft.draft_presses(shop)
    draft.draft_places(shop)
    draft.draft_jobs(shop)
    draft.draft_stations(shop)
    shop.rows["operator"] = [{"badge": "B1", "name": "Ada Quill", "role": "supervisor"}]
    draft_tools.draft_tools(shop)
    return shop


def write(seed, folder):
    """Write the shop of a seed into a folder; gives the draft."""
    shop = draft_shop(seed)
    cells.write_shop(random.Random(seed + 1), folder, shop)
    return shop


def main(words):
    if words[:1] == ["--count"]:
        import coverage_count
        coverage_count.main(int(words[1]) if len(words) > 1 else 300)
    else:
        write(int(words[0]), words[1])


if __name__ == "__main__":
    main(sys.argv[1:])
