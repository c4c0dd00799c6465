"""Where to put the ruler: line drawings for the terminal, with the letters of the questions."""

TAILED = """
  From above, nose up; x is the wing's leading edge where it meets the body.
  All places are measured along the body, from x.

           /\\
          /  \\            N  nose to x            P  nose to the body's end
         |-U--|           U, V, W  widths of the body
      S  |    |
      |  /    |           S, T  strake: how far forward, how far out
      | /     |
      |/_T_   |
        |     |-.__
     __ x---V-| B  `--.__       A  span, tip to tip
    D   |     |          |      B, C  chords at root and tip
     `-.|     |          |C     D  x to the tip's leading edge
        |     |__________|
        |     |
        |     |  E  x to the tailplane's leading edge
        |     |-.__
        |   F |    |H           F, H  its chords;  G  its span, tip to tip
        |_W___|____|
"""

DELTA = """
  From above, nose up; x is where the wing's leading edge meets the body's side: a wing
  that runs on over or through the body has its front point further ahead, which is not x.
  All places are measured along the body, from x.

           /\\
          /  \\            N  nose to x            P  nose to the body's end
         |-U--|           U, V, W  widths of the body
         |    |
        x|--V-|\\
         |    | \\         A  span, tip to tip
       B |    |  \\        B  chord at the body's side, C  at the tip
         |    |   \\       D  x to the tip's leading edge
         |    |    |
         |_W__|____|C
"""

SIDE = """
  From the side, nose to the left.
                                       ____
                             K |      /   M|
           ___canopy___        |     /     |
     ____/             \\________|__ /___L___|__
    <     u       x  v                        | w
     \\____________|____________________________|
      N  nose to x |  J  x to the fin's foot, leading edge
                   |-----------------> aft: plus     ahead of x: minus
      Q  x to the middle of the pack     R  x to where it balances
"""


def drawing_for(kind: str) -> str:
    """Return the drawings of a kind: from above, and from the side."""
    return (DELTA if kind == "delta" else TAILED) + SIDE
