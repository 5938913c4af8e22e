import shared.records
from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0006_a_move_is_shared_between_jobs"),
    ]

    operations = [
        migrations.AddField(
            model_name="deliveryline",
            name="pack_price",
            field=shared.records.MoneyField(
                blank=True,
                decimal_places=4,
                help_text="Of a pack, as the delivery note or the bill says. Without tax.",
                max_digits=14,
                null=True,
            ),
        ),
    ]
