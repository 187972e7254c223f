// Generated from box.csv, panel.csv, board.csv and volumes.csv; edit those, not this file.
length = 176; // Outside length (x) in mm
width = 104; // Outside width (y)
height = 70; // Outside height with the lid (z)
wall = 3; // Walls
floor_ = 3; // Floor
lid = 3; // Lid
rim = 6.8; // Width of the thick rim that carries the gasket
rim_height = 8; // Height of that rim
groove = 2.4; // Width of the groove for a round cord of 2 mm
groove_depth = 2.3; // Depth of that groove
tongue = 2; // Width of the tongue of the lid that presses the cord
tongue_height = 0.8; // Height of that tongue
board_x = 5; // Left edge of the circuit board
board_y = 8; // Upper edge of the circuit board, seen from above
post = 6; // Height of the posts under the board
post_width = 8; // Diameter of those posts
screw = 2.6; // Hole for a self-cutting M3 screw
screw_free = 3.4; // Hole that an M3 screw passes
cell_foam = 2; // Foam all round the cell
bay = 2; // Thickness of the ribs of the bays
bay_height = 10; // Height of those ribs
strap = 26; // Width of the straps, 25 mm tape
window_x = 54; // Middle of the light sensor's window in the upper wall, from the left
window_z = 51; // The same above the floor's outside
window = 10; // Bore of the wall and of the collar below the diffuser pane
pane = 14; // Side of the diffuser pane
pane_thickness = 5; // Its thickness
pane_free = 0.4; // How much wider its bed and the pocket in the wall are
boss = 26; // Side of the thick wall round the window; it is as thick as the rim
collar_foot = 14.2; // Side of the foot of the light sensor's collar, in the pocket of the wall
collar_pocket = 3; // Depth of that pocket
collar_height = 16; // How far the middle of the pane's underside stands out from the wall
collar_slant = 25; // Degrees by which the top of the collar is slanted towards the lid
collar_side = 44; // Side of the slanted top
collar_floor = 5.5; // Thickness of the plate round the pane; on the side of the lid it is thinner, for the pane lies on it
pane_bed = 3; // How deep the pane lies in that plate on the three other sides
rim_gap = 8; // Gap in each corner of the rim; water runs off through it
rim_wall = 2.4; // Thickness of that rim
board_holes = [[4, 4], [96, 4], [4, 84], [96, 84]];
lid_holes = [
    [46, 36, false, 57, 29.5],
    [124, 14, true, 5.2, 5.2],
    [21, 80, true, 16.2, 16.2],
    [47, 80, true, 16.2, 16.2],
    [73, 80, true, 16.2, 16.2],
    [99, 80, true, 16.2, 16.2],
    [104, 38, true, 22.3, 22.3],
    [144, 38, true, 22.3, 22.3]];
left_holes = [[52, 34, true, 6.2, 6.2]];
right_holes = [[42, 30, true, 12.2, 12.2],
    [18, 30, true, 13, 13]];
jack_y = 52;
cell = [116, 10, 166, 70, 5];
charger = [112, 78, 140, 95, 5];
part_volumes = [
    [5, 8, 9, 105, 96, 10.6] /* circuit board */,
    [49.6, 31.5, 21.6, 104.2, 60, 27] /* ESP32 board */,
    [33, 72.5, 21.6, 74.8, 94.5, 35.6] /* clock module */,
    [116, 10, 5, 166, 70, 12] /* cell */,
    [112, 78, 5, 140, 95, 10] /* charger module */,
    [141, 80.5, 4, 169, 92.5, 12] /* USB plug */,
    [10, 14.5, 57, 82, 57.5, 67] /* display */,
    [43.5, 9, 40.5, 64.5, 13, 61.5] /* light sensor module */,
    [49.5, 31.2, 10.6, 98.8, 34.75, 19.1] /* U1 */,
    [49.5, 56.6, 10.6, 98.8, 60.15, 19.1] /* U1 second socket */,
    [16.75, 33.9, 10.6, 29.05, 39.55, 15.6] /* U2 */,
    [16.75, 47.9, 10.6, 29.05, 53.55, 15.6] /* U3 */,
    [83.99, 79.27, 10.6, 91.09, 84.01, 18.6] /* U4 */,
    [37.91, 68.99, 10.6, 45.01, 73.73, 18.6] /* U5 */,
    [28.49, 67.27, 10.6, 35.59, 72.01, 18.6] /* Q1 */,
    [31.49, 31.77, 10.6, 38.59, 36.51, 18.6] /* Q2 */,
    [31.49, 45.77, 10.6, 38.59, 50.51, 18.6] /* Q3 */,
    [28.99, 89.27, 10.6, 36.09, 94.01, 18.6] /* Q4 */,
    [80.95, 71.65, 10.6, 97.35, 77.35, 16.6] /* D1 */,
    [63.95, 70.55, 10.6, 76.21, 73.05, 13.6] /* D2 */,
    [58.55, 74.25, 10.6, 70.81, 76.75, 13.6] /* D3 */,
    [38.29, 90.75, 10.6, 50.55, 93.25, 13.6] /* D4 */,
    [81.7, 65.4, 10.6, 85.3, 71.55, 22.1] /* D5 */,
    [31.29, 38, 10.6, 43.55, 41, 13.6] /* R1 */,
    [31.29, 52, 10.6, 43.55, 55, 13.6] /* R2 */,
    [33.95, 27.8, 10.6, 46.21, 30.8, 13.6] /* R3 */,
    [31.39, 41.8, 10.6, 43.65, 44.8, 13.6] /* R4 */,
    [44.5, 31.25, 10.6, 47.5, 43.51, 13.6] /* R5 */,
    [44.5, 45.45, 10.6, 47.5, 57.71, 13.6] /* R6 */,
    [72.29, 62.3, 10.6, 84.55, 65.3, 13.6] /* R7 */,
    [48, 74.45, 10.6, 51, 86.71, 13.6] /* R8 */,
    [45.79, 69.5, 10.6, 58.05, 72.5, 13.6] /* R9 */,
    [27.79, 74.5, 10.6, 40.05, 77.5, 13.6] /* R10 */,
    [27.79, 78, 10.6, 40.05, 81, 13.6] /* R11 */,
    [85.79, 60.25, 10.6, 98.05, 63.25, 13.6] /* R12 */,
    [28.79, 81.7, 10.6, 41.05, 84.7, 13.6] /* R13 */,
    [28.79, 85.3, 10.6, 41.05, 88.3, 13.6] /* R14 */,
    [85.29, 41.7, 10.6, 97.55, 44.7, 13.6] /* R15 */,
    [85.29, 44.8, 10.6, 97.55, 47.8, 13.6] /* R16 */,
    [85.29, 47.9, 10.6, 97.55, 50.9, 13.6] /* R17 */,
    [85.29, 51, 10.6, 97.55, 54, 13.6] /* R18 */,
    [51.9, 15.45, 10.6, 54.9, 27.71, 13.6] /* R19 */,
    [39.7, 15.45, 10.6, 42.7, 27.71, 13.6] /* R20 */,
    [27.5, 15.45, 10.6, 30.5, 27.71, 13.6] /* R21 */,
    [64.1, 15.45, 10.6, 67.1, 27.71, 13.6] /* R22 */,
    [76.3, 15.45, 10.6, 79.3, 27.71, 13.6] /* R23 */,
    [88.5, 15.45, 10.6, 91.5, 27.71, 13.6] /* R24 */,
    [55.2, 15.45, 10.6, 58.2, 27.71, 13.6] /* R25 */,
    [43, 15.45, 10.6, 46, 27.71, 13.6] /* R26 */,
    [30.8, 15.45, 10.6, 33.8, 27.71, 13.6] /* R27 */,
    [67.4, 15.45, 10.6, 70.4, 27.71, 13.6] /* R28 */,
    [79.6, 15.45, 10.6, 82.6, 27.71, 13.6] /* R29 */,
    [91.8, 15.45, 10.6, 94.8, 27.71, 13.6] /* R30 */,
    [28.45, 59.5, 10.6, 40.71, 62.5, 13.6] /* R31 */,
    [28.45, 63, 10.6, 40.71, 66, 13.6] /* R32 */,
    [57.79, 37.9, 10.6, 70.05, 40.9, 13.6] /* R33 */,
    [57.79, 41, 10.6, 70.05, 44, 13.6] /* R34 */,
    [57.79, 46.5, 10.6, 70.05, 49.5, 13.6] /* R35 */,
    [57.79, 49.7, 10.6, 70.05, 52.7, 13.6] /* R36 */,
    [92.25, 80.25, 10.6, 97.75, 85.75, 22.1] /* C1 */,
    [84.85, 85.6, 10.6, 91.65, 92.4, 22.6] /* C2 */,
    [100, 31.95, 10.6, 103, 39.05, 17.6] /* C3 */,
    [63.5, 63.25, 10.6, 71.5, 68.75, 20.6] /* C4 */,
    [52.75, 74, 10.6, 58.25, 82, 20.6] /* C5 */,
    [85.45, 38.4, 10.6, 92.55, 41.4, 17.6] /* C6 */,
    [58.6, 20.61, 10.6, 61.6, 27.71, 17.6] /* C7 */,
    [46.4, 20.61, 10.6, 49.4, 27.71, 17.6] /* C8 */,
    [34.2, 20.61, 10.6, 37.2, 27.71, 17.6] /* C9 */,
    [70.8, 20.61, 10.6, 73.8, 27.71, 17.6] /* C10 */,
    [83, 20.61, 10.6, 86, 27.71, 17.6] /* C11 */,
    [95.2, 20.61, 10.6, 98.2, 27.71, 17.6] /* C12 */,
    [53.6, 9.7, 10.6, 59.75, 13.3, 22.1] /* S1 */,
    [41.4, 9.7, 10.6, 47.55, 13.3, 22.1] /* S2 */,
    [29.2, 9.7, 10.6, 35.35, 13.3, 22.1] /* S3 */,
    [65.8, 9.7, 10.6, 71.95, 13.3, 22.1] /* S4 */,
    [78, 9.7, 10.6, 84.15, 13.3, 22.1] /* S5 */,
    [90.2, 9.7, 10.6, 96.35, 13.3, 22.1] /* S6 */,
    [100.2, 81.7, 10.6, 103.8, 87.85, 22.1] /* SW1 */,
    [88, 63.75, 10.6, 99, 69.25, 22.1] /* F1 */,
    [52.2, 87.7, 10.6, 55.8, 93.85, 14.6] /* BZ1 */,
    [100.2, 63.7, 10.6, 103.8, 69.85, 22.1] /* J1 */,
    [11.7, 38.2, 10.6, 15.3, 46.85, 22.1] /* J2 */,
    [71.2, 76.2, 10.6, 74.75, 92.45, 19.1] /* A1 */,
    [100.2, 70.2, 10.6, 103.8, 81.4, 22.1] /* A2 */,
    [76.7, 72.7, 10.6, 80.3, 83.9, 22.1] /* DS1 */,
    [76.7, 84.2, 10.6, 80.3, 95.4, 22.1] /* A3 */,
    [121, 11, 53, 127, 17, 67] /* D5 body */,
    [11, 70, 37, 31, 90, 67] /* S3 body */,
    [37, 70, 37, 57, 90, 67] /* S2 body */,
    [63, 70, 37, 83, 90, 67] /* S1 body */,
    [89, 70, 37, 109, 90, 67] /* S4 body */,
    [90, 24, 31, 118, 52, 67] /* S5 body */,
    [130, 24, 31, 158, 52, 67] /* S6 body */,
    [3, 46.5, 30.5, 27, 57.5, 41.5] /* J2 body */,
    [143, 54, 32, 173, 70, 48] /* SW1 body */,
    [145, 77, 31, 173, 95, 49] /* USB body */];
