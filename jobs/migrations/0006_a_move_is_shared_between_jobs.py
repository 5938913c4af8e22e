import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0005_gates_cut_plans_and_orders"),
        ("shop", "0006_files_of_the_stores"),
    ]

    operations = [
        migrations.AddField(
            model_name="jobuse",
            name="quantity",
            field=models.DecimalField(
                decimal_places=3,
                default=1,
                help_text="This job's share of the move.",
                max_digits=12,
            ),
            preserve_default=False,
        ),
        migrations.AlterField(
            model_name="jobuse",
            name="move",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="shop.stockmove",
            ),
        ),
        migrations.AddConstraint(
            model_name="jobuse",
            constraint=models.UniqueConstraint(
                fields=("move", "job"), name="jobs_jobuse_job_once"
            ),
        ),
        migrations.AddConstraint(
            model_name="jobuse",
            constraint=models.CheckConstraint(
                condition=models.Q(("quantity__gt", 0)),
                name="jobs_jobuse_some",
                violation_error_message="Say how much was used.",
            ),
        ),
    ]
