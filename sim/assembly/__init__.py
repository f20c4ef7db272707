"""From a scenario to a rig: every worn thing made, put in its place and added up. Here units and files meet SI."""
