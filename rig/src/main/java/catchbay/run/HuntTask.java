package catchbay.run;

import catchbay.quantity.FlowRate;
import catchbay.quantity.Speed;
import catchbay.quantity.VolumeUnit;

import java.util.Locale;

/**
 * What a person is asked to set in a hunt for an end of a truck's range; done when {@link
 * Question#HUNT_STEP} is answered.
 */
public sealed interface HuntTask {

    /** What is asked, as sentences. */
    String words();

    /** About how much is to flow. */
    FlowRate flow();

    /**
     * A valve stands by hand so that about this much flows: that of the controller in its manual
     * mode, or a throttle of the bay.
     *
     * @param opening whether it was shut further before
     * @param most more than this, and the bay stops
     */
    record SetValve(FlowRate flow, boolean opening, FlowRate most) implements HuntTask {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "The controller stays in manual. %s the valve slowly until about %.3g US"
                        + " gal/min flow by the screen (more than %.3g, and the bay stops), then"
                        + " press Enter.",
                    opening ? "Open" : "Shut",
                    flow.perMinute(VolumeUnit.US_GALLON),
                    most.perMinute(VolumeUnit.US_GALLON));
        }
    }

    /**
     * A controller to which the bay sends no speed has this one set by hand, in its automatic mode.
     *
     * @param speed at which the set rate asks for the flow
     */
    record SetSpeed(FlowRate flow, Speed speed) implements HuntTask {
        @Override
        public String words() {
            return String.format(
                    Locale.ROOT,
                    "Set the controller's own test speed to %.1f mph (%.2f US gal/min), let the"
                            + " flow run, then press Enter.",
                    speed.milesPerHour(),
                    flow.perMinute(VolumeUnit.US_GALLON));
        }
    }
}
