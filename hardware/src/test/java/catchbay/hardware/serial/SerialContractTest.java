package catchbay.hardware.serial;

import catchbay.port.PortKind;
import catchbay.quantity.Mass;
import catchbay.quantity.MassUnit;
import catchbay.quantity.Volume;
import catchbay.quantity.VolumeUnit;
import catchbay.run.RunInput;
import catchbay.signal.SmaScale;
import catchbay.sim.device.LineFault;
import catchbay.sim.device.StandInController;
import catchbay.sim.device.StandInScale;

import org.junit.jupiter.api.Nested;

import java.io.IOException;
import java.nio.file.Path;
import java.util.Map;
import java.util.function.DoubleSupplier;

/**
 * The contract, for each way of reading a line. The shares of wrong amounts under changed bits are
 * those found with many frames ({@code SmaScaleTest}), with room for a hundred frames' chance.
 */
class SerialContractTest {

    private static final double WRONG_SHARE_MAX = 0.06;

    @Nested
    class SmaPolled extends OfAScale {
        @Override
        StandInScale.Setting device() {
            return StandInScale.Setting.polled();
        }

        @Override
        BenchSettings settings(Path port) {
            return SerialBench.scale(port, "sma-poll").with("poll_hertz", 25);
        }
    }

    @Nested
    class SmaRepeating extends OfAScale {
        @Override
        StandInScale.Setting device() {
            return StandInScale.Setting.polled().every(10_000_000);
        }

        @Override
        BenchSettings settings(Path port) {
            return SerialBench.scale(port, "sma-repeat").with("high_resolution", true);
        }
    }

    @Nested
    class SmaStreaming extends OfAScale {
        @Override
        StandInScale.Setting device() {
            return StandInScale.Setting.streaming(100);
        }

        @Override
        BenchSettings settings(Path port) {
            return SerialBench.scale(port, "sma-stream");
        }
    }

    /** The stand-in's frames, read as text lines between line feed and return. */
    @Nested
    class ByPattern extends OfAScale {
        @Override
        StandInScale.Setting device() {
            return StandInScale.Setting.streaming(100);
        }

        @Override
        BenchSettings settings(Path port) {
            return SerialBench.scale(port, "pattern")
                    .with(
                            "pattern",
                            "[ Z]1[GN](?<motion>[M ]) (?<weight>[- 0-9.]{10})(?<unit>kg|lb)_")
                    .with("unit", "kg");
        }
    }

    @Nested
    class ModbusWholeNumber extends OfRegisters {
        @Override
        Map<String, Object> keys() {
            return Map.of(
                    "register", 0,
                    "number", "int32",
                    "factor", 0.01,
                    "state_register", 2,
                    "motion_bit", 0,
                    "fault_mask", 2,
                    "unit_register", 3,
                    "unit_value", MassUnit.KILOGRAM.ordinal());
        }
    }

    @Nested
    class ModbusFloatingPoint extends OfRegisters {
        @Override
        Map<String, Object> keys() {
            return Map.of(
                    "table", "input",
                    "register", 4,
                    "number", "float32",
                    "word_order", "low-first");
        }
    }

    /** Fixed width, so that a digit lost on the wire is seen. */
    @Nested
    class ControllerByPattern extends SerialContract {

        @Override
        PortKind kind() {
            return PortKind.CONTROLLER;
        }

        @Override
        Device plugged(Path link, DoubleSupplier shown) throws IOException {
            StandInController device =
                    new StandInController(
                            StandInController.Setting.plain(100).linkedAt(link),
                            () -> Volume.ofUsGallons(shown.getAsDouble()));
            return new Device() {
                @Override
                public void fault(LineFault fault) {
                    device.fault(fault);
                }

                @Override
                public void unplug() throws IOException {
                    device.unplug();
                }

                @Override
                public void replug() throws IOException {
                    device.replug();
                }

                @Override
                public void close() {
                    device.close();
                }
            };
        }

        @Override
        BenchSettings settings(Path port) {
            return SerialBench.controller(port, "TOTAL (?<total>[0-9.]{5,7}) US gal")
                    .with("unit", "us_gal");
        }

        @Override
        double amount(RunInput input) {
            double gallons = ((RunInput.ControllerTotal) input).total().in(VolumeUnit.US_GALLON);
            return Math.rint(gallons * 1e6) / 1e6;
        }

        @Override
        int frameBytes() {
            return "TOTAL 1000.00 US gal\r\n".length();
        }

        @Override
        boolean findsFramesInNoise() {
            return false;
        }

        @Override
        double wrongShareMax() {
            return WRONG_SHARE_MAX;
        }
    }

    private abstract static class OfRegisters extends OfAScale {

        abstract Map<String, Object> keys();

        @Override
        StandInScale.Setting device() {
            return StandInScale.Setting.polled().ofRegisters();
        }

        @Override
        BenchSettings settings(Path port) {
            BenchSettings settings =
                    SerialBench.scale(port, "modbus").with("unit", "kg").with("poll_hertz", 25);
            for (Map.Entry<String, Object> key : keys().entrySet()) {
                settings = settings.with(key.getKey(), key.getValue());
            }
            return settings;
        }

        @Override
        double wrongShareMax() {
            return 0;
        }
    }

    private abstract static class OfAScale extends SerialContract {

        abstract StandInScale.Setting device();

        @Override
        PortKind kind() {
            return PortKind.SCALE;
        }

        @Override
        Device plugged(Path link, DoubleSupplier shown) throws IOException {
            StandInScale scale =
                    new StandInScale(
                            device().linkedAt(link),
                            () -> Mass.of(shown.getAsDouble(), MassUnit.KILOGRAM));
            return new Device() {
                @Override
                public void fault(LineFault fault) {
                    scale.fault(fault);
                }

                @Override
                public void unplug() throws IOException {
                    scale.unplug();
                }

                @Override
                public void replug() throws IOException {
                    scale.replug();
                }

                @Override
                public void close() {
                    scale.close();
                }
            };
        }

        @Override
        double amount(RunInput input) {
            return SerialBench.weight(input).amount();
        }

        @Override
        int frameBytes() {
            return SmaScale.FRAME_BYTES;
        }

        @Override
        boolean findsFramesInNoise() {
            return true;
        }

        @Override
        double wrongShareMax() {
            return WRONG_SHARE_MAX;
        }
    }
}
