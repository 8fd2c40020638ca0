"""The round openings of panels/wheatear/proposed.json that are cut, by hand from that file and its instruments.

Diameter -> centres in mm from the panel's datum; and how many there are of each diameter in all.
"""

BY_HAND = {
    28.8: [(-100, 28)],
    57.4: [(261.5, 114)],
    8.5: [(-12.7, 53.5), (12.7, 53.5)],
    12.7: [(-63.5, 22), (63.5, 22), (-174, 35), (-147, 35)],
    11.91: [(168, 35), (192, 35), (216, 35)],
}
COUNTS = {28.8: 1, 57.4: 1, 8.5: 2, 12.7: 4, 11.91: 3, 4.5: 4, 3.4: 8}
ANCHOR = 28.8
