package catchbay.hardware.pressure;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * One voltage channel of a converter, as the kernel shows it in files.
 *
 * <p>Source: the kernel's ABI/testing/sysfs-bus-iio (from memory): (raw + offset) x scale are
 * millivolts; a scale or an offset may stand for all channels of a kind, and an offset may lack.
 *
 * @param device the converter's folder
 * @param channel its name, as in {@code voltage0}, or {@code voltage0-voltage1} between two pins
 */
record IioChannel(Path device, String channel) {

    /** A number's text is far shorter. */
    private static final int BYTES_MAX = 64;

    /** The file that is read for each reading. */
    Path raw() {
        return device.resolve("in_" + channel + "_raw");
    }

    /**
     * What lies at the channel, mV.
     *
     * @throws IOException when a file is not there, holds no number, or a scale of 0 or less
     */
    double millivolts() throws IOException {
        double scale = number(found("scale"));
        if (scale <= 0) {
            throw new IOException(found("scale") + " holds " + scale + ", and no scale is that");
        }
        Path offset = found("offset");
        return (number(raw()) + (Files.exists(offset) ? number(offset) : 0)) * scale;
    }

    /** The channel's own file of this kind, or that of all such channels. */
    private Path found(String kind) {
        String shared = channel.replaceAll("[0-9]+", "");
        for (String name : List.of(channel, shared)) {
            Path file = device.resolve("in_" + name + "_" + kind);
            if (Files.exists(file)) {
                return file;
            }
        }
        return device.resolve("in_voltage_" + kind);
    }

    private static double number(Path file) throws IOException {
        try (InputStream text = Files.newInputStream(file)) {
            String digits =
                    new String(text.readNBytes(BYTES_MAX), StandardCharsets.ISO_8859_1).strip();
            double number = Double.parseDouble(digits);
            if (!Double.isFinite(number)) {
                throw new IOException(file + " holds no number");
            }
            return number;
        } catch (NumberFormatException unfit) {
            throw new IOException(file + " holds no number", unfit);
        }
    }
}
