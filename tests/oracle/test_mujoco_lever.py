"""A lever on a torsion bar against MuJoCo, which has a hinge in the vertical plane and nothing of ours."""

from __future__ import annotations

from math import cos, radians

import mujoco
import numpy as np
import pytest

from models.levers import turned
from tests.manual import near


@pytest.mark.parametrize("angle", [-40.0, 0.0, 25.0, 60.0])
@pytest.mark.parametrize("turn", [-30.0, -5.0, 12.0, 19.0])
def test_force_that_holds_the_end_of_a_lever_up(angle: float, turn: float) -> None:
    """The hinge has the spring of the bar, its torque at design trim through the reference of the spring.

    MuJoCo gives height and Jacobian of the lever's end and the torque of the spring; a vertical force at
    the end holds it: F dz/dφ = torque.  Ours from travel alone: F = g'(s) (T + k g(s)).
    """
    ratio, rate, torque = 2.6, 1500.0, 420.0
    length = 1 / (ratio * cos(radians(angle)))
    model = mujoco.MjModel.from_xml_string(
        f"""<mujoco><compiler angle="radian"/><option gravity="0 0 0"/><worldbody><body>
        <joint name="bar" type="hinge" axis="0 -1 0" stiffness="{rate}"
          springref="{radians(angle) - torque / rate}"/>
        <inertial pos="0 0 0" mass="1" diaginertia="1 1 1"/>
        <site name="end" pos="{length} 0 0"/></body></worldbody></mujoco>"""
    )
    data = mujoco.MjData(model)

    def stand(place: float) -> tuple[float, float, float]:
        data.qpos[0] = place
        mujoco.mj_forward(model, data)
        jacobian = np.zeros((3, 1))
        mujoco.mj_jacSite(model, data, jacobian, None, model.site("end").id)
        return float(data.site("end").xpos[2]), float(jacobian[2, 0]), -float(data.qfrc_spring[0])

    start = stand(radians(angle))[0]
    height, rise, held = stand(radians(angle + turn))
    ours = turned(ratio, radians(angle), height - start)
    # Rounding of the asin near the vertical: 1e-16 over cos 79°, on torques of 1e3.
    near("angle, rad", ours.angle, radians(turn), within=1e-13)
    near("force at the end, N", ours.ratio * (torque + rate * ours.angle), held / rise, relative=1e-11)
