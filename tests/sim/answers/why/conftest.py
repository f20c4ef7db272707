"""The invented diver of the drawing tests."""

from tests.sim.drawing.conftest import flat_scene, mirrored_scene, scene_at

__all__ = ["flat_scene", "mirrored_scene", "scene_at"]
