"""A diver's skin, closed, in any pose, and its sixteen segments. Depends on the shapes of ``meshes`` alone.

``shape`` fixes a standing body once, from its measures; ``skin`` bends it into a pose. Between them: the trunk
with neck and head (``trunk``, ``head``, ``features``), the limbs (``limbs``, ``leg``, ``shoulder``), and how
skin follows a joint (``bend``, ``smoothing``, ``kinematics``). Which points make which triangles depends on the
fineness alone (``topology``, ``grid``). Axes as everywhere: x to the head, y to the left, z to the back, origin
between the hips.
"""
