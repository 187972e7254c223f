// The box to print: body, lid, and a mask for the small display. Every figure comes from tables.scad, which is generated from
// box.csv, panel.csv, board.csv and volumes.csv.
// One part:  openscad -D 'part="body"' -o body.stl box.scad     (body, lid, mask, collar, together, open, closed, clash, clash_lid)
include <tables.scad>
part = "together";
light = true; // false: the box without the window of the light sensor
$fn = 48;
e = 0.01;

// The tables count y downwards, as a person sees the lid; the model counts it upwards.
module at(x, y, z = 0) { translate([x, width - y, z]) children(); }
module block(x1, y1, z1, x2, y2, z2) { translate([x1, width - y2, z1]) cube([x2 - x1, y2 - y1, z2 - z1]); }
rim_z = height - lid;
lugs = [[20, 0], [length / 2, 0], [length - 20, 0], [20, width], [length / 2, width], [length - 20, width]];

module hole(p, deep) { // p: x, y, round, width, height; through a plate that lies in the plane z = 0
    at(p[0], p[1], -deep) if (p[2]) cylinder(d = p[3], h = 2 * deep); else translate([-p[3] / 2, -p[4] / 2]) cube([p[3], p[4], 2 * deep]);
}

module lug(h) { // outside the gasket, so that no screw hole leaks; the slope prints without support
    hull() { translate([-6, -e, -h]) cube([12, 9, h]); translate([-6, -e, -h - 9]) cube([12, e, e]); }
}
module each_lug() { for (l = lugs) translate([l[0], l[1] == 0 ? 0 : width, rim_z]) rotate(l[1] == 0 ? 180 : 0) children(); }

module strap_ear() { // a tape of 25 mm passes through it, round a tripod leg
    difference() {
        translate([-strap / 2 - 5, -e, 0]) cube([strap + 10, 12, 5]);
        translate([-strap / 2, 3, -1]) cube([strap, 5, 7]);
    }
}

module frame(x1, y1, x2, y2, h) { // a rib round a rectangle of free floor
    difference() { block(x1 - bay, y1 - bay, floor_ - e, x2 + bay, y2 + bay, floor_ + h); block(x1, y1, 0, x2, y2, 100); }
}

// The light sensor's window in the upper wall: the collar stands in a pocket from outside, the foam and the module stand behind a wall that
// is flush with the rim; the slope below prints without support.
module boss() {
    hull() {
        block(window_x - boss / 2, wall - e, window_z - boss / 2, window_x + boss / 2, rim, window_z + boss / 2);
        block(window_x - boss / 2, wall - e, window_z - boss / 2 - (rim - wall), window_x + boss / 2, wall, window_z + boss / 2);
    }
}
module window_() {
    hole_ = pane + pane_free;
    block(window_x - hole_ / 2, -1, window_z - hole_ / 2, window_x + hole_ / 2, collar_pocket, window_z + hole_ / 2);
    at(window_x, 0, window_z) rotate([90, 0, 0]) cylinder(d = window, h = 3 * rim, center = true);
}

module body() {
    difference() {
        union() {
            difference() {
                cube([length, width, rim_z]);
                translate([wall, wall, floor_]) cube([length - 2 * wall, width - 2 * wall, height]);
            }
            difference() { // the rim, sloped below so that it prints without support
                translate([wall - e, wall - e, rim_z - rim_height - (rim - wall)]) cube([length - 2 * wall + 2 * e, width - 2 * wall + 2 * e, rim_height + rim - wall]);
                translate([rim, rim, 0]) cube([length - 2 * rim, width - 2 * rim, height]);
                hull() {
                    translate([wall, wall, rim_z - rim_height - (rim - wall) - e]) cube([length - 2 * wall, width - 2 * wall, e]);
                    translate([rim, rim, rim_z - rim_height]) cube([length - 2 * rim, width - 2 * rim, e]);
                }
            }
            if (light) boss();
            for (h = board_holes) at(board_x + h[0], board_y + h[1], floor_ - e) cylinder(d = post_width, h = post + e);
            frame(cell[0] - cell_foam, cell[1] - cell_foam, cell[2] + cell_foam, cell[3] + cell_foam, bay_height);
            difference() { // the charger's bay is open towards its plug
                frame(charger[0] - 0.5, charger[1] - 0.5, charger[2] + 0.5, charger[3] + 0.5, 5);
                block(charger[2] - e, charger[1] + 2, floor_, charger[2] + bay + 1, charger[3] - 2, 50);
            }
            for (y = [charger[1] + 1, charger[3] - 3]) block(charger[0] + 2, y, floor_ - e, charger[2] - 2, y + 2, charger[4]); // it lies on two rails
            each_lug() lug(10);
            for (y = [0, 1]) translate([length / 2 - (y == 0 ? 0 : 0), y * width, 0]) rotate(y == 0 ? 180 : 0) strap_ear();
            // The eye below the jack: the lead hangs in a loop, is tied here, and a drop falls off before it reaches the jack.
            at(0, jack_y, 6) translate([-10, -8, 0]) cube([10 + e, 16, 6]);
        }
        translate([rim / 2 - groove / 2, rim / 2 - groove / 2, rim_z - groove_depth]) difference() {
            cube([length - rim + groove, width - rim + groove, 10]);
            translate([groove, groove, -1]) cube([length - rim - groove, width - rim - groove, 12]);
        }
        for (h = board_holes) at(board_x + h[0], board_y + h[1], floor_) cylinder(d = screw, h = 40);
        each_lug() translate([0, 4.5, -9]) cylinder(d = screw, h = 20);
        for (p = left_holes) translate([0, width - p[0], height - p[1]]) rotate([0, 90, 0]) cylinder(d = p[3], h = 20, center = true);
        for (p = right_holes) translate([length, p[0], height - p[1]]) rotate([0, 90, 0]) cylinder(d = p[3], h = 20, center = true);
        if (light) window_();
        at(0, jack_y, 5) translate([-7, -2, 0]) cube([4, 4, 8]); // the tie of the eye
        // A hook tape over the cell, and the cell's wires.
        block(cell[0] - 20, (cell[1] + cell[3]) / 2 - 8, floor_ + 3, cell[2] + 5, (cell[1] + cell[3]) / 2 + 8, 50);
    }
}

module lid_() {
    difference() {
        union() {
            translate([0, 0, rim_z]) cube([length, width, lid]);
            translate([rim / 2 - tongue / 2, rim / 2 - tongue / 2, rim_z - tongue_height]) difference() {
                cube([length - rim + tongue, width - rim + tongue, tongue_height + e]);
                translate([tongue, tongue, -1]) cube([length - rim - tongue, width - rim - tongue, 4]);
            }
            each_lug() translate([-6, -e, 0]) cube([12, 9, lid]);
        }
        for (p = lid_holes) translate([0, 0, height]) hole(p, 20);
        each_lug() translate([0, 4.5, -5]) cylinder(d = screw_free, h = 20);
    }
}

// The collar is printed by itself, its foot down, and glued into the pocket. Its top is slanted, so that the pane is level on a leg of a
// tripod, and stands higher than the lid. The edges of the pane stand free; the rim on three sides is as high as the pane.
// Here the wall lies in the plane z = 0, outside is upwards, and the lid's side is +y.
module slanted() { translate([0, 0, collar_height]) rotate([-collar_slant, 0, 0]) children(); }
module plate(side, low, high) { translate([-side / 2, -side / 2, low]) cube([side, side, high - low]); }
module foot() { plate(collar_foot, 0.2 - collar_pocket, e); }
module collar() {
    under = pane_bed - collar_floor;
    difference() {
        union() {
            foot();
            hull() { plate(pane + 8, 0, e); slanted() plate(pane + 8, under, under + e); }
            hull() { slanted() plate(pane + 8, under - e, under); slanted() plate(collar_side, under, pane_bed); }
            slanted() difference() {
                plate(collar_side, under, pane_thickness);
                plate(collar_side - 2 * rim_wall, pane_bed, pane_thickness + 1);
            }
        }
        slanted() plate(pane + pane_free, 0, 10);
        // On the side of the lid, where the photographer stands, there is no rim, and the pane lies on the plate: all of its edge stands free.
        slanted() translate([rim_wall - collar_side / 2, pane / 2 - 0.5, 0]) cube([collar_side - 2 * rim_wall, collar_side, 10]);
        slanted() translate([-collar_side, collar_side / 2 - rim_gap, 0]) cube([2 * collar_side, collar_side, 10]);
        // Water runs off there and through the two other corners.
        slanted() for (x = [-1, 1]) translate([x * collar_side / 2, -collar_side / 2, pane_bed]) translate([-rim_gap, -rim_gap, 0]) cube([2 * rim_gap, 2 * rim_gap, 10]);
        translate([0, 0, -collar_pocket - 1]) cylinder(d = window, h = 60);
        // Nothing stands below the plane of the wall but the foot.
        difference() { translate([-50, -50, -40]) cube([100, 100, 40]); foot(); }
    }
}
module pane_() { slanted() plate(pane, 0, pane_thickness); }
module on_wall() { translate([window_x, width, window_z]) rotate([-90, 0, 0]) mirror([0, 1, 0]) children(); }

module mask() { // behind the window, for the 0.96 inch display and the red gel
    difference() {
        translate([-36, -21.5, 0]) cube([72, 43, 2]);
        translate([-13.5, -7.5, -1]) cube([27, 15, 4]);
        for (x = [-32, 32], y = [-17.5, 17.5]) translate([x, y, -1]) cylinder(d = 2.4, h = 4);
    }
}

module volumes() { for (v = part_volumes) block(v[0] + 0.05, v[1] + 0.05, v[2] + 0.05, v[3] - 0.05, v[4] - 0.05, v[5] - 0.05); }

if (part == "body") body();
if (part == "lid") translate([0, width, height]) rotate([180, 0, 0]) lid_();
if (part == "mask") mask();
if (part == "collar") collar();
if (part == "clash") intersection() { body(); volumes(); }
if (part == "clash_lid") intersection() { lid_(); volumes(); }
if (part == "together") { body(); color("silver", 0.3) lid_(); color("orange") volumes(); }
if (part == "closed") {
    color("lightgrey") body();
    color("dimgrey") lid_();
    if (light) on_wall() { color("grey") collar(); color("white") pane_(); }
}
if (part == "open") { color("lightgrey") body(); color("orange") volumes(); }
