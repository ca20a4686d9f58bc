package catchbay.architecture.planted.port;

import java.time.ZoneId;
import java.util.Locale;

/** Planted: text and time that differ from shop to shop. */
final class Local {

    String amount(double gallons) {
        return String.format("%.3f", gallons) + "%.3f".formatted(gallons) + "GAL".toLowerCase();
    }

    String allowed(double gallons) {
        return String.format(Locale.ROOT, "%.3f", gallons) + "GAL".toLowerCase(Locale.ROOT);
    }

    void print(double gallons) {
        System.out.printf("%.3f", gallons);
    }

    ZoneId zone() {
        return ZoneId.systemDefault();
    }
}
