package catchbay.run;

import catchbay.metrology.TruckConstant;
import catchbay.quantity.FlowRate;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Speed;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;

import java.util.Locale;
import java.util.Optional;

/**
 * What a person is asked to do between two catches of a sweep or of a test of the bay; done when
 * {@link Question#SWEEP_STEP} is answered.
 */
public sealed interface SweepTask {

    /** What is asked, as sentences. */
    String words();

    /** The truck must be filled up. */
    record Refill(Volume volume) implements SweepTask {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "Fill up the truck (about %.0f US gal are missing), then shut every refilling"
                            + " and return valve and press Enter.",
                    volume.usGallons());
        }
    }

    /**
     * A new number must be entered in the controller.
     *
     * @param constant the truck's constant with the new number
     * @param note what the controller will then do, as a sentence
     */
    record EnterConstant(TruckConstant constant, String note) implements SweepTask {
        @Override
        public String words() {
            return "Enter "
                    + constant.written(constant.value())
                    + " in the controller, save it, and let a second person read it there. "
                    + note
                    + " Then press Enter: verification follows.";
        }
    }

    /** The catch tank must be emptied by hand. */
    record EmptyTank() implements SweepTask {
        @Override
        public String words() {
            return "Empty the catch tank, shut its drain, then press Enter.";
        }
    }

    /**
     * Liquid must be poured into the catch tank.
     *
     * @param missing about how much
     * @param until what the scale shows then, at least
     * @param unit in which it shows it
     */
    record FillTank(Volume missing, Mass until, MassUnit unit) implements SweepTask {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "Pour about %.1f US gal into the catch tank as the shop's rules say, until the"
                            + " scale shows at least %.1f %s, then press Enter.",
                    missing.usGallons(),
                    until.in(unit),
                    unit.symbol());
        }
    }

    /** The bay's own supply must be set to a flow. */
    record SetSupply(FlowRate flow) implements SweepTask {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "Set the throttle of the bay's own supply for about %.2f US gal/min, and leave"
                            + " it so until the end. Then press Enter.",
                    flow.perMinute(VolumeUnit.US_GALLON));
        }
    }

    /**
     * What the bay cannot set must be set by hand.
     *
     * @param flow asked for
     * @param speed at which the set rate asks for it
     */
    record SetPoint(FlowRate flow, Speed speed) implements SweepTask {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "Set the controller to %.1f mph (%.2f US gal/min), then press Enter.",
                    speed.milesPerHour(),
                    flow.perMinute(VolumeUnit.US_GALLON));
        }
    }

    /**
     * The truck's outlets must be opened and shut.
     *
     * @param outlet the only one that is to be open, or boom section; empty = all of them
     */
    record SetOutlet(Optional<String> outlet) implements SweepTask {
        @Override
        public String words() {
            return outlet.map(which ->
                            "Let liquid run through '"
                                    + which
                                    + "' alone, and shut every other outlet, then press Enter.")
                    .orElse("Open all outlets of the truck, then press Enter.");
        }
    }
}
