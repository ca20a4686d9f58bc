package catchbay.run;

import catchbay.quantity.Distance;
import catchbay.quantity.Mass;
import catchbay.quantity.Volume;
import catchbay.run.RunSetup.Window;
import catchbay.signal.PulseCount;
import catchbay.signal.PulseGate;
import catchbay.signal.Tally;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The volume asked for in the window and the way to it.
 *
 * @param volume rate times distance, or times salt
 * @param basis how it was arrived at, in words
 * @param doubt what makes it uncertain, in words
 * @param halfWidth of an even spread common to all catches, as a ratio of the volume
 * @param standard standard uncertainty that comes out anew each time, as a ratio of the volume
 */
record AskedAmount(Volume volume, String basis, String doubt, double halfWidth, double standard) {

    /** As far as it is known: also before the window is closed, from what is set. */
    static AskedAmount of(Sensed sensed, Counting counting) {
        return new Finder(sensed, counting).asked();
    }

    private AskedAmount with(Volume other, String prefix) {
        return new AskedAmount(other, prefix + basis, doubt, halfWidth, standard);
    }

    /** What the asked volume is a multiple of. */
    private record Finder(Sensed sensed, Counting counting) {

        AskedAmount asked() {
            return switch (setup().asked().application()) {
                case RunSetup.Application.Direct direct -> {
                    Length length = length();
                    yield length.about.with(
                            direct.rate().over(length.distance, direct.lanes()), "set rate x ");
                }
                case RunSetup.Application.PreWet preWet -> preWet(preWet);
            };
        }

        private RunSetup setup() {
            return sensed.setup();
        }

        private AskedAmount preWet(RunSetup.Application.PreWet preWet) {
            if (sensed.ledger().salt().isPresent()) {
                return new AskedAmount(
                        preWet.rate().on(sensed.ledger().salt().get()),
                        "pre-wet rate x salt that the controller reports",
                        "asked, salt reported",
                        setup().doubts().salt().value(),
                        0);
            }
            Optional<PulseCount> feeder =
                    preWet.saltPerFeederPulse().isPresent()
                            ? counting.ofSideLine(sensed.lines().feeder(), "feeder pulses")
                            : Optional.empty();
            if (feeder.isPresent()) {
                double pulses = Counting.pulses(feeder.get());
                Mass salt = new Mass(preWet.saltPerFeederPulse().get().kilograms() * pulses);
                return new AskedAmount(
                        preWet.rate().on(salt),
                        "pre-wet rate x feeder pulses x their constant",
                        "asked, feeder pulses and their constant",
                        setup().doubts().salt().value(),
                        counting.standard(feeder.get()) / pulses);
            }
            OptionalDouble sent = sensed.lines().sentFeeder().inWindow();
            if (preWet.saltPerFeederPulse().isPresent() && sent.orElse(0) > 0) {
                Mass salt =
                        new Mass(
                                preWet.saltPerFeederPulse().get().kilograms() * sent.getAsDouble());
                return new AskedAmount(
                        preWet.rate().on(salt),
                        "pre-wet rate x feeder pulses sent, computed from period x time and not"
                                + " counted back, x their constant",
                        "asked, feeder pulses sent and their constant",
                        setup().doubts().salt().value(),
                        0);
            }
            Length length = length();
            return length.about.with(
                    preWet.rate().on(preWet.salt().over(length.distance)),
                    "pre-wet rate x set salt rate x ");
        }

        /** The road that the truck believes it covered in the window. */
        private record Length(Distance distance, AskedAmount about) {}

        private Length length() {
            Optional<PulseCount> delivered =
                    setup().asked().pulsesPerMile().isPresent()
                            ? counting.ofSideLine(sensed.lines().speed(), "speed pulses")
                            : Optional.empty();
            if (delivered.isPresent()) {
                double pulses = Counting.pulses(delivered.get());
                return new Length(
                        Distance.ofMiles(pulses / setup().asked().pulsesPerMile().get()),
                        new AskedAmount(
                                Volume.ZERO,
                                "distance from the speed pulses delivered",
                                "asked, speed pulse count",
                                0,
                                counting.standard(delivered.get()) / pulses));
            }
            OptionalDouble sent = sensed.lines().sentSpeed().inWindow();
            if (setup().asked().pulsesPerMile().isPresent() && sent.orElse(0) > 0) {
                return new Length(
                        Distance.ofMiles(
                                sent.getAsDouble() / setup().asked().pulsesPerMile().get()),
                        new AskedAmount(
                                Volume.ZERO,
                                "distance from the speed pulses sent, computed from period x time"
                                        + " and not counted back",
                                "asked, speed sent",
                                setup().doubts().speed().value(),
                                0));
            }
            PulseGate window = sensed.lines().reference();
            boolean closed = window.openNanos() != Tally.NONE && window.closeNanos() != Tally.NONE;
            Ledger ledger = sensed.ledger();
            if (sensed.plan().window() == Window.FLYING && closed) {
                return bySetSpeed(window.closeNanos() - window.openNanos(), "the window's time");
            }
            if (ledger.flowOnNanos() != Ledger.NONE && ledger.flowOffNanos() != Ledger.NONE) {
                return bySetSpeed(
                        ledger.flowOffNanos() - ledger.flowOnNanos(),
                        "the time from start to stop of the flow");
            }
            return bySetSpeed(sensed.plan().catchNanos(), "set time");
        }

        private Length bySetSpeed(long nanos, String time) {
            String set =
                    setup().truck().speedSource() == RunSetup.SpeedSource.PULSES
                            ? "set speed x "
                            : "the controller's own test speed x ";
            String basis =
                    sensed.lines().reference().closeNanos() == Tally.NONE
                            ? set + time
                            : set + time + " (speed not counted back)";
            return new Length(
                    setup().asked().speed().during(nanos),
                    new AskedAmount(
                            Volume.ZERO,
                            basis,
                            "asked, set speed",
                            setup().doubts().speed().value(),
                            0));
        }
    }
}
